import { keysOf, type PlannedSlot } from '@fivespan/core';
import { markOf } from '@fivespan/formats/diagram';
import { $shapeMarks, chooseSlot, nameOf, type Study } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { NextHand } from '../stage/NextHand.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useThumbText } from '../words/thumb-name.ts';
import styles from './HandsBeside.module.css';

/** Where the hand comes from, and where it goes: each leads to its chord. */
export function HandsBeside({ study }: { readonly study: Study }) {
  const { slots } = study.lesson.plan;
  const before = slots[study.slotIndex - 1];
  const after = slots[study.slotIndex + 1];
  return (
    <div className={styles.beside} role="group" aria-label={words.study.besides}>
      {before !== undefined && <Hand slot={before} travelMm={study.planned.travelMm} where="before" />}
      {after !== undefined && <Hand slot={after} travelMm={after.travelMm} where="after" />}
    </div>
  );
}

interface HandProps {
  readonly slot: PlannedSlot;
  /** How far the thumb goes between it and the chord that is chosen. */
  readonly travelMm: number;
  readonly where: 'before' | 'after';
}

function Hand({ slot, travelMm, where }: HandProps) {
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  const { position, thumbMidi, analysed } = slot;
  const thumb = position === null ? null : thumbText.printed(position.thumb, markOf(marks, position.shape));
  return (
    <button type="button" className={styles.hand} onClick={() => chooseSlot(nameOf(slot))}>
      {position !== null && thumbMidi !== null && (
        <span className={styles.picture}>
          <NextHand keys={keysOf(position, thumbMidi)} />
        </span>
      )}
      <span className={styles.words}>
        <span className="soft">{words.study.beside[where]}</span>
        <span className={styles.chord}>
          <ChordName chord={analysed.played.slot.chord} />
        </span>
        <span className="soft">
          {thumb === null ? words.study.nowhere : words.study.besideHand(thumb, travelMm, where)}
        </span>
      </span>
    </button>
  );
}
