import { partOnStaff, type Lesson } from '@fivespan/core';
import { markOf } from '@fivespan/formats/diagram';
import { useMemo } from 'react';
import type { TracedNote } from '../../features/engraving/index.ts';
import { $shapeMarks, noteHeard, sound } from '../../features/study/index.ts';
import { SoundSign } from '../controls/SoundSign.tsx';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { stretchAround } from '../keyboard/stretch.ts';
import { useTheme } from '../shell/use-theme.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { noteTold, type Naming } from './note-told.ts';
import styles from './NotePanel.module.css';

interface NotePanelProps {
  readonly lesson: Lesson;
  /** The note pointed at. */
  readonly note: TracedNote | undefined;
  readonly naming: Naming;
}

/** What is told of the note pointed at, in a place of its own, so that nothing moves. The note itself says it to a screen reader. */
export function NotePanel({ lesson, note, naming }: NotePanelProps) {
  if (note === undefined) {
    return (
      <div className={styles.panel}>
        <p className={styles.help}>{words.study.whyHelp}</p>
      </div>
    );
  }
  const { name, place, why } = noteTold(lesson, note, naming);
  const { hand, instrument, hasFingers } = partOnStaff(note.role);
  const chord = lesson.plan.slots[note.slotIndex]?.analysed.chord ?? null;
  return (
    <div className={styles.panel}>
      <span className={styles.name} aria-hidden="true">
        {name}
      </span>
      <div className={styles.told}>
        <p aria-hidden="true">
          <span className="soft">{place}</span> <span className={styles.why}>{why}</span>
        </p>
        <button
          type="button"
          onClick={() => void sound(noteHeard(chord, note.written.pitch, instrument === 'acoustic bass'))}
        >
          <SoundSign /> {words.study.hearNote}
        </button>
      </div>
      {hand === 'right' && hasFingers && <Hand lesson={lesson} slotIndex={note.slotIndex} />}
    </div>
  );
}

/** The hand that plays it. */
function Hand({ lesson, slotIndex }: { readonly lesson: Lesson; readonly slotIndex: number }) {
  const theme = useTheme();
  const marks = useStore($shapeMarks);
  const slot = lesson.plan.slots[slotIndex];
  const { position = null, thumbMidi = null } = slot ?? {};
  const picture = useMemo(
    () =>
      position === null || thumbMidi === null
        ? null
        : {
            ...stretchAround(thumbMidi),
            hand: { position, thumbMidi, mark: markOf(marks, position.shape) },
            otherThumbs: [],
            degrees: [],
          },
    [position, thumbMidi, marks],
  );
  if (picture === null) return null;
  return (
    <div className={styles.hand}>
      <KeyboardPicture picture={picture} theme={theme} />
    </div>
  );
}
