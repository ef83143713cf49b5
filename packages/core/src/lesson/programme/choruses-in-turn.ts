import { figuresOf, kitAt, type BarFigure } from '../../parts/index.ts';
import type { TrioParts } from '../../performance/index.ts';
import { formatKey, midiOf, type Key, type Midi } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';
import { landingOn, partsOfChorus } from './chorus-parts.ts';
import type { Programme, ProgrammeChorus } from './programme.ts';

/** Choruses in one key and at one tempo count on; another key or tempo counts from the first again. */
function timesOf(choruses: readonly ProgrammeChorus[]): number[] {
  let time = -1;
  return choruses.map(({ key, tempoBpm }, index) => {
    const before = choruses[index - 1];
    const goesOn = before !== undefined && formatKey(before.key) === formatKey(key) && before.tempoBpm === tempoBpm;
    time = goesOn ? time + 1 : 0;
    return time;
  });
}

/** The choruses of a programme as they come. */
export interface ChorusesInTurn {
  lessonIn(key: Key): Lesson;
  /** Which time through in its key and tempo, from 0. */
  timeOf(index: number): number;
  /** The parts of a chorus, its end leading into the next one. Asked for in order, each once. */
  partsOf(index: number): TrioParts;
}

/** Each lesson is made once, each chorus a chorus ahead, for the one before lands on it. */
export function chorusesInTurn(make: (key: Key) => Lesson, { choruses, voicings }: Programme): ChorusesInTurn {
  const times = timesOf(choruses);
  const lessons = new Map<string, Lesson>();
  const ahead = new Map<number, TrioParts>();
  const lastBassKeys = new Map<number, Midi>();
  const lastFigures = new Map<number, readonly BarFigure[]>();

  const lessonIn = (key: Key): Lesson => {
    const lesson = lessons.get(formatKey(key)) ?? make(key);
    lessons.set(formatKey(key), lesson);
    return lesson;
  };
  /** Made once; undefined past the last. */
  const partsAt = (index: number): TrioParts | undefined => {
    const chorus = choruses[index];
    if (chorus === undefined) return undefined;
    const after = choruses[index + 1];
    const { key, tempoBpm } = chorus;
    const parts =
      ahead.get(index) ??
      partsOfChorus(lessonIn(key), {
        time: times[index] as number,
        tempoBpm,
        kit: kitAt(tempoBpm),
        voicings,
        next: after === undefined ? null : lessonIn(after.key),
        after: lastBassKeys.get(index - 1) ?? null,
        heard: lastFigures.get(index - 1) ?? [],
      });
    ahead.set(index, parts);
    const last = parts.bass.at(-1);
    if (last !== undefined) lastBassKeys.set(index, midiOf(last.pitch));
    const { form, slots } = lessonIn(key).analysis;
    // the next chorus begins where this one ends
    const ended = figuresOf(slots, parts.bass).slice(-2);
    lastFigures.set(
      index,
      ended.map((each) => ({
        ...each,
        startTicks: each.startTicks - form.endTicks,
        endTicks: each.endTicks - form.endTicks,
      })),
    );
    return parts;
  };

  return {
    lessonIn,
    timeOf: (index) => times[index] as number,
    partsOf: (index) => {
      const own = partsAt(index) as TrioParts;
      const next = partsAt(index + 1);
      ahead.delete(index);
      return next === undefined ? own : landingOn(own, next, times[index] === 0);
    },
  };
}
