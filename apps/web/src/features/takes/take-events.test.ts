import { expect, test } from 'vitest';
import { KEY_DOWN, KEY_UP, notesOf, PEDAL } from './take-events.ts';

test('keys down and up are notes, in order; the pedal is kept apart', () => {
  const { notes, pedals } = notesOf([
    [0, KEY_DOWN, 60, 80],
    [100, PEDAL, 64, 127],
    // the end of a key may be told after the next key
    [300, KEY_DOWN, 62, 70],
    [200, KEY_UP, 60, 0],
    [900, KEY_UP, 62, 0],
  ]);
  expect(notes).toEqual([
    { startMicros: 0, durationMicros: 200, key: 60, velocity: 80, channel: 0 },
    { startMicros: 300, durationMicros: 600, key: 62, velocity: 70, channel: 0 },
  ]);
  expect(pedals).toEqual([{ atMicros: 100, value: 127, channel: 0 }]);
});

test('a key struck again ends the one before; one that nobody let go of ends with the take', () => {
  const { notes } = notesOf([
    [0, KEY_DOWN, 60, 80],
    [500, KEY_DOWN, 60, 90],
    [700_000, KEY_DOWN, 64, 60],
  ]);
  expect(notes.map(({ startMicros, durationMicros }) => [startMicros, durationMicros])).toEqual([
    [0, 500],
    [500, 699_500],
    [700_000, 100_000],
  ]);
});

test('what is no event, off a damaged disk, is passed over', () => {
  expect(
    notesOf([[], [-1, 1, 60, 80], [1.5, 1, 60, 80], [0, 1, 200, 80], [0, 1, 60, 999], [Number.NaN, 1, 60, 80]]),
  ).toEqual({
    notes: [],
    pedals: [],
  });
});
