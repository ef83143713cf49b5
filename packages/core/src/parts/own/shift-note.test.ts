import { describe, expect, test } from 'vitest';
import { shiftNote, type TimedStretch } from './shift-note.ts';

const bars: readonly TimedStretch[] = [
  { startTicks: 0, endTicks: 3840, notes: [{ onsetTicks: 1920, durationTicks: 1920, key: 60 }] },
  {
    startTicks: 3840,
    endTicks: 7680,
    notes: [
      { onsetTicks: 0, durationTicks: 960, key: 62 },
      { onsetTicks: 960, durationTicks: 480, key: 64 },
    ],
  },
];
const moved = (at: number, by: number) =>
  shiftNote(bars, at, by)?.stretches.map(({ notes }) => notes.map((note) => [note.onsetTicks, note.durationTicks]));

describe('a note moved in time', () => {
  test('goes over the bar line, and what sounds before it ends there', () => {
    expect(moved(3840, -480)).toEqual([
      [
        [1920, 1440],
        [3360, 960],
      ],
      [[960, 480]],
    ]);
  });

  test('ends where the next begins, and passes none', () => {
    expect(moved(3840, 480)).toEqual([
      [[1920, 1920]],
      [
        [480, 480],
        [960, 480],
      ],
    ]);
    expect(moved(3840, 960)).toBeUndefined();
    expect(moved(4800, -960)).toBeUndefined();
  });

  test('stays within its neighbours, and no other note moves', () => {
    expect(moved(1920, -2400)).toBeUndefined();
    expect(moved(4800, 2880)).toBeUndefined();
    expect(moved(500, 480)).toBeUndefined();
    expect(moved(4800, 2400)).toEqual([
      [[1920, 1920]],
      [
        [0, 960],
        [3360, 480],
      ],
    ]);
  });
});
