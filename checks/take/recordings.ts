/**
 * Recorded players' time as our judge takes it. Sources: Jazz Trio Database (Cheston and others 2024, MIT; hand-annotated beats
 * and onsets) and Groove MIDI Dataset (CC BY 4.0; played to a click); named in checks/jtd.ts and checks/performance/swing-recordings.ts (R).
 * Onsets of the trios are laid on their annotated beats, so that the beat is the click.
 */
import { DEFAULT_CHOICES, makeLesson, readChart, type HeardNote, type Lesson } from '@fivespan/core';
import { trioRecordings } from '../jtd.ts';
import { drumTakes, RIDE_KEYS } from '../performance/swing-recordings.ts';

/** A recording as a take. */
export interface RecordedTake {
  readonly name: string;
  readonly tempoBpm: number;
  readonly notes: readonly HeardNote[];
}

/** Something to lay them over: one chord, since onsets have no pitches. */
export function plainLesson(): Lesson {
  const chart = readChart('A:\n| Cmaj7 | % | % | % |');
  if (!chart.ok) throw new TypeError('text must be a chart');
  return makeLesson(chart.value, DEFAULT_CHOICES);
}

/** Piano as the right hand and bass as the left, against the annotated beats. */
export function trioTakes(): RecordedTake[] {
  return trioRecordings().map(({ name, beats, beatSeconds, onsets }) => {
    const onBeats = (time: number): number[] => {
      const before = beats.findIndex((each) => each > time) - 1;
      const [from, to] = [beats[before], beats[before + 1]];
      return from === undefined || to === undefined ? [] : [(before + (time - from) / (to - from)) * beatSeconds];
    };
    const hand = (who: 'piano' | 'bass', side: HeardNote['hand'], key: number): HeardNote[] =>
      onsets(who)
        .flatMap(onBeats)
        .map((startSeconds) => ({ startSeconds, durationSeconds: beatSeconds * 0.4, key, velocity: 64, hand: side }));
    const notes = [...hand('piano', 'right', 72), ...hand('bass', 'left', 36)];
    return { name, tempoBpm: 60 / beatSeconds, notes: notes.sort((a, b) => a.startSeconds - b.startSeconds) };
  });
}

/** The ride cymbal as a hand. */
export function rideTakes(): RecordedTake[] {
  return drumTakes().map(({ name, bpm, strokes }) => ({
    name,
    tempoBpm: bpm,
    notes: strokes
      .filter(({ key }) => RIDE_KEYS.includes(key))
      .map(({ beat, velocity }) => ({
        startSeconds: (beat * 60) / bpm,
        durationSeconds: 0.1,
        key: 72,
        velocity,
        hand: 'right' as const,
      }))
      .sort((a, b) => a.startSeconds - b.startSeconds),
  }));
}
