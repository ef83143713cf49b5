import { midi, type PlannedSlot } from '@fivespan/core';
import type { KeyboardPicture as Picture } from '@fivespan/formats/diagram';
import { useEffect, useRef, useState } from 'react';
import { $made } from '../../features/open-lesson/index.ts';
import { silence, sound, stretchHeard } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Tour.module.css';
import { useTheme } from './use-theme.ts';

/** Keys shown round the hand, in semitones. */
const SEMITONES = 19;

/** The hand on the keys round it. */
function pictureOf({ position, thumbMidi }: PlannedSlot): Picture | null {
  if (position === null || thumbMidi === null) return null;
  let lowest = thumbMidi - 1;
  while (lowest % 12 !== 0 && lowest % 12 !== 5) lowest--;
  return {
    lowest: midi(lowest),
    highest: midi(lowest + SEMITONES),
    hand: { position, thumbMidi },
    otherThumbs: [],
    degrees: [],
  };
}

/** The tune's first two bars: the chords, where the hand is, and a press to hear them. */
export function TwoBars() {
  const made = useStore($made);
  const theme = useTheme();
  const [isSounding, setSounding] = useState(false);
  const end = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const lesson = made?.lesson ?? null;
  // a pickup's ticks are negative
  const [first, second, third] = lesson?.analysis.form.bars.filter(({ startTicks }) => startTicks >= 0) ?? [];
  const slots = lesson?.plan.slots.filter(({ analysed }) => {
    const { playedBar } = analysed.played;
    return playedBar === first || playedBar === second;
  });
  const held = slots?.find(({ position }) => position !== null);
  const picture = held === undefined ? null : pictureOf(held);
  useEffect(
    () => () => {
      clearTimeout(end.current);
      silence();
    },
    [],
  );
  if (lesson === null || first === undefined || picture === null) return null;
  const stop = (): void => {
    clearTimeout(end.current);
    silence();
    setSounding(false);
  };
  const play = async (): Promise<void> => {
    const notes = stretchHeard(lesson, first.startTicks, third?.startTicks ?? Infinity);
    const seconds = notes.reduce((most, note) => Math.max(most, note.startSeconds + note.durationSeconds), 0);
    setSounding(true);
    if ((await sound(notes)) === undefined) setSounding(false);
    else end.current = setTimeout(() => setSounding(false), seconds * 1000);
  };
  return (
    <div className={styles.two}>
      <div aria-hidden="true">
        <p className={styles.chords}>
          {slots?.map(({ analysed: { played } }, index) => (
            <span key={index}>
              <ChordName chord={played.slot.chord} />
            </span>
          ))}
        </p>
        <KeyboardPicture picture={picture} theme={theme} />
      </div>
      <button type="button" onClick={() => (isSounding ? stop() : void play())}>
        {isSounding ? words.shell.tour.quiet : words.shell.tour.hear}
      </button>
    </div>
  );
}
