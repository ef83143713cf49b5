import { describe, expect, test } from 'vitest';
import { readChart } from '../chart/index.ts';
// a lesson is what the judge is given; its maker is above this room
import { DEFAULT_CHOICES, makeLesson } from '../lesson/index.ts';
import { judgeTake } from './judge.ts';
import type { HeardNote } from './take.ts';
import { writeDown } from './write-down.ts';

const chart = readChart('title: Test\ntempo: 120\nA:\n| Dm7 | G7 | Cmaj7 | % |\n');
if (!chart.ok) throw new TypeError('text must be a chart');
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);

/** Eighths and more at 120, swung two to one: [beat, length in beats, key]. */
function played(notes: readonly (readonly [beat: number, beats: number, key: number])[]): HeardNote[] {
  const at = (beat: number): number => (Math.floor(beat) + (beat % 1 === 0.5 ? 2 / 3 : beat % 1)) / 2;
  return notes.map(([beat, beats, key]) => ({
    startSeconds: at(beat),
    durationSeconds: (at(beat + beats) - at(beat)) * 0.92,
    key,
    velocity: 80,
    hand: 'right',
  }));
}

const line = [
  [0, 0.5, 62], [0.5, 0.5, 65], [1, 1, 69], [2, 0.5, 72], [2.5, 1.5, 69],
  [5, 0.5, 67], [5.5, 0.5, 71], [6, 0.5, 74], [6.5, 0.5, 71], [7, 0.5, 67], [7.5, 1.5, 64],
] as const; // prettier-ignore

describe('a take written down', () => {
  const judged = judgeTake(
    lesson,
    played([...line, ...line.map(([beat, beats, key]) => [beat + 16, beats, key + 12] as const)]),
    120,
  );

  test('swung eighths are eighths, rests stay, a note over the bar line goes on', () => {
    const { notes, pins, leftOut, sure } = writeDown(judged, { hand: 'right', fromTicks: 0, toTicks: 7680 });
    expect(notes.map(({ startTicks, durationTicks, key }) => [startTicks / 960, durationTicks / 960, key])).toEqual(
      line.map((each) => [...each]),
    );
    expect(pins.map(({ over, notes: own }) => `${over} ${own.length}`)).toEqual(['Dm7 5', 'G7 6']);
    expect(pins[1]?.notes[0]).toEqual({ onsetTicks: 960, durationTicks: 480, key: 67 });
    expect(leftOut).toBe(0);
    expect(sure).toBeGreaterThan(0.8);
  });

  test('the second time through is written where the first one stands; silence is a pin without notes', () => {
    const { pins } = writeDown(judged, { hand: 'right', fromTicks: 16 * 960, toTicks: 40 * 960 });
    expect(pins.map(({ notes }) => notes.map(({ key }) => key)[0])).toEqual([74, 79, undefined, undefined]);
    expect(pins[0]?.slot).toBe(writeDown(judged, { hand: 'right', fromTicks: 0, toTicks: 1 }).pins[0]?.slot);
  });

  test('a triplet is one, and the hand that played nothing leaves silence', () => {
    const triplets = [...line, [12, 1 / 3, 64], [12 + 1 / 3, 1 / 3, 65], [12 + 2 / 3, 1 / 3, 67], [13, 1, 69]] as const;
    const own = judgeTake(lesson, played(triplets), 120);
    const { notes } = writeDown(own, { hand: 'right', fromTicks: 11520, toTicks: 15360 });
    expect(notes.map(({ startTicks }) => startTicks - 11520)).toEqual([0, 320, 640, 960]);
    const { pins, sure } = writeDown(own, { hand: 'left', fromTicks: 0, toTicks: 960 });
    expect([pins[0]?.part, pins[0]?.notes, sure]).toEqual(['bass', [], 0]);
  });
});
