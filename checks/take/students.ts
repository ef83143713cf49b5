/**
 * Synthetic students: our own choruses and free lines inside the lesson's families, played with the timing and dynamics of people,
 * and with one fault at a time. The spreads are measured on the open data (C): strokes stray from their own pulse by 8 to 22 ms
 * (Groove MIDI Dataset, ride; Jazz Trio Database, piano and bass), hands lie 0 to 25 ms behind, velocities stray by 6 to 14 about their
 * line (Groove; Vienna 4x22). `bench/take-students.ts` prints what is found.
 */
import { randomSource, type HeardNote, type Lesson, type RandomSource } from '@fivespan/core';
import { spoiled, type Fault } from './student-faults.ts';
import {
  CHARTS,
  freeLine,
  humanly,
  lessonOf,
  tickSecondsOf,
  written,
  type Chances,
  type Written,
} from './student-lines.ts';

/** A student's take, and what is wrong with it. */
export interface StudentTake {
  readonly about: string;
  readonly lesson: Lesson;
  readonly tempoBpm: number;
  readonly notes: readonly HeardNote[];
  /** Bars that have the fault, as counted on paper. */
  readonly bars: readonly number[];
}

/** What a seed's first throws choose: always as many, so that the others fall as they did. */
function lessonDrawn(random: RandomSource) {
  const chart = random.integer(CHARTS.length);
  const keyIndex = random.integer(3);
  const level = (1 + random.integer(4)) as 1 | 2 | 3 | 4;
  const choruses = 1 + random.integer(3);
  return { chart, keyIndex, level, choruses, lessonSeed: 1 + random.integer(2) };
}

/**
 * A student's take.
 * @param fault null for a clean one
 * @param lessonSeed which lesson it is of: its own seed's, or that of another
 * @returns null where this take has no place for the fault
 */
export function studentTake(seed: number, fault: Fault | null, lessonSeed = seed): StudentTake | null {
  const random = randomSource(seed, 'student');
  const drawn = lessonDrawn(random);
  const { choruses } = drawn;
  const ofLesson = lessonSeed === seed ? drawn : lessonDrawn(randomSource(lessonSeed, 'student'));
  const { chart, keyIndex, level } = ofLesson;
  const lesson = lessonOf(chart, keyIndex, level, ofLesson.lessonSeed);
  const tempoBpm = 60 + random.integer(161);
  const chances: Chances = { random, lesson, tempoBpm, swing: 1.2 + random.integer(90) / 100 };
  const isFree = random.integer(2) === 0;
  const isSolo = fault?.startsWith('left.') === true || random.integer(3) > 0;
  const chorusSeconds = lesson.analysis.form.endTicks * tickSecondsOf(chances);
  const notes: Written[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    const hands = [
      ...(isFree ? freeLine(chances) : written(chances, 'right')),
      ...(isSolo ? written(chances, 'left') : []),
    ];
    for (const note of hands) {
      notes.push({
        ...note,
        startTicks: note.startTicks + chorus * lesson.analysis.form.endTicks,
        startSeconds: note.startSeconds + chorus * chorusSeconds,
      });
    }
  }
  // now and then somebody comes in late
  const from = random.integer(6) === 0 ? lesson.analysis.form.endTicks / 4 : 0;
  const late = notes.filter(({ startTicks }) => startTicks >= from);
  late.sort((a, b) => a.startSeconds - b.startSeconds);
  const about = `chart ${chart} key ${keyIndex} level ${level} ×${choruses} at ${tempoBpm} ${isFree ? 'free' : 'chorus'} ${isSolo ? 'two hands' : 'right hand'}`;
  const played = [
    ...humanly(
      late.filter(({ hand }) => hand === 'right'),
      random,
    ),
    ...humanly(
      late.filter(({ hand }) => hand === 'left'),
      random,
    ),
  ];
  const faulty = fault === null ? { notes: played, bars: [] } : spoiled(fault, played, chances, choruses);
  if (faulty === null) return null;
  const sorted = faulty.notes.toSorted((a, b) => a.startSeconds - b.startSeconds);
  return { about, lesson, tempoBpm, notes: sorted, bars: faulty.bars };
}
