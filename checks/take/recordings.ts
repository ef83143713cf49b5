/**
 * Recorded players' time as our judge takes it. Sources: Jazz Trio Database (Cheston and others 2024, MIT; hand-annotated beats
 * and onsets) and Groove MIDI Dataset (CC BY 4.0; played to a click); both named in checks/performance/swing-recordings.ts (R).
 * Onsets of the trios are laid on their annotated beats, so that the beat is the click.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEFAULT_CHOICES, makeLesson, readChart, type HeardNote, type Lesson } from '@fivespan/core';
import { drumTakes, median, OPEN_DATA, RIDE_KEYS } from '../performance/swing-recordings.ts';

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
  const folder = join(OPEN_DATA, 'jtd');
  if (!existsSync(folder)) return [];
  const read = (file: string): number[] =>
    readFileSync(join(folder, file), 'utf8')
      .split('\n')
      .filter((line) => line.trim() !== '')
      .map((line) => Number(line.split('\t')[0]))
      .sort((a, b) => a - b);
  return readdirSync(folder)
    .filter((file) => file.endsWith('_mix.txt'))
    .sort()
    .map((file) => {
      const name = file.replace('_mix.txt', '');
      const beats = read(file);
      const beat = median(beats.slice(1).map((line, index) => line - (beats[index] as number)));
      const onBeats = (time: number): number[] => {
        const before = beats.findIndex((each) => each > time) - 1;
        const [from, to] = [beats[before], beats[before + 1]];
        return from === undefined || to === undefined ? [] : [(before + (time - from) / (to - from)) * beat];
      };
      const hand = (who: string, side: HeardNote['hand'], key: number): HeardNote[] =>
        read(`${name}_${who}.txt`)
          .flatMap(onBeats)
          .map((startSeconds) => ({ startSeconds, durationSeconds: beat * 0.4, key, velocity: 64, hand: side }));
      const notes = [...hand('piano', 'right', 72), ...hand('bass', 'left', 36)];
      return { name, tempoBpm: 60 / beat, notes: notes.sort((a, b) => a.startSeconds - b.startSeconds) };
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
