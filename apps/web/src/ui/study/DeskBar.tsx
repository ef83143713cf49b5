import type { PlannedSlot } from '@fivespan/core';
import { $open, redo, undo } from '../../features/open-lesson/index.ts';
import { $deskView, chooseSlot, DESK_VIEWS, nameOf, type Study } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { OneOf } from '../controls/OneOf.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './DeskBar.module.css';
import { Pins } from './Pins.tsx';

/** What the tabs show. */
export const DESK_PANEL = 'study-desk';

/** Between the strip and what is found: the three views, which time, the chords beside this one, pins, and back a step. */
export function DeskBar({ study }: { readonly study: Study }) {
  const view = useStore($deskView);
  const open = useStore($open);
  const { lesson, slotIndex, name, passes } = study;
  const { slots } = lesson.plan;
  return (
    <div className={styles.bar}>
      <OneOf
        label={words.study.views}
        choices={DESK_VIEWS}
        textOf={(each) => words.study.view[each]}
        value={view}
        onChange={(each) => $deskView.set(each)}
        panelId={DESK_PANEL}
        size="large"
      />
      {passes > 1 && (
        <OneOf
          label={words.study.which}
          choices={Array.from({ length: passes }, (_, index) => String(index + 1))}
          textOf={(each) => words.study.time(Number(each))}
          value={String(name.pass)}
          onChange={(each) => chooseSlot({ slot: name.slot, pass: Number(each) })}
        />
      )}
      <div className={styles.right}>
        <div className={styles.beside}>
          <Beside slot={slots[slotIndex - 1]} where="before" />
          <Beside slot={slots[slotIndex + 1]} where="after" />
        </div>
        <Pins study={study} />
        <div className={styles.steps}>
          <button type="button" className="plain" disabled={open?.canUndo !== true} onClick={undo}>
            {words.study.undo}
          </button>
          <button type="button" className="plain" disabled={open?.canRedo !== true} onClick={redo}>
            {words.study.redo}
          </button>
        </div>
      </div>
    </div>
  );
}

/** The chord that is played before this one, or after it. */
function Beside({ slot, where }: { readonly slot: PlannedSlot | undefined; readonly where: 'before' | 'after' }) {
  if (slot === undefined) return null;
  return (
    <button type="button" className="plain" onClick={() => chooseSlot(nameOf(slot))}>
      <span className={styles.chord}>
        <ChordName chord={slot.analysed.played.slot.chord} />
      </span>{' '}
      {words.study.beside[where]}
    </button>
  );
}
