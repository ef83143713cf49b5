import { midi, noteName, pitchAt, type ScoreNote } from '@fivespan/core';
import { expect, it } from 'vitest';
import { octaveShifts } from './octave-shift.ts';

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
/** Eighths on these keys, from a tick on. */
const eighths = (keys: readonly number[], fromTicks = 0): ScoreNote[] =>
  keys.map(
    (key, index) =>
      ({
        startTicks: fromTicks + index * 480,
        durationTicks: 480,
        pitch: pitchAt(noteName(NAMES[key % 12] as string), midi(key)),
        finger: null,
      }) as ScoreNote,
  );

// common practice: 8va over a passage, not over a note; nothing under it falls below the staff
it('a passage over three ledger lines goes under an 8va line, with what lies high beside it', () => {
  expect(octaveShifts(eighths([72, 79, 84, 89, 91, 84, 74, 72]))).toEqual([{ startTicks: 480, endTicks: 2880 }]);
  expect(octaveShifts(eighths([72, 79, 84, 89, 84, 79]))).toEqual([]);
  expect(octaveShifts(eighths([60, 64, 67, 72, 76, 79]))).toEqual([]);
});

it('a bar of silence parts two passages, and each must have high notes of its own', () => {
  const parted = [...eighths([84, 89]), ...eighths([91, 84], 6000)];
  expect(octaveShifts(parted)).toEqual([]);
  const both = [...eighths([88, 89]), ...eighths([91, 88], 6000)];
  expect(octaveShifts(both)).toEqual([
    { startTicks: 0, endTicks: 960 },
    { startTicks: 6000, endTicks: 6960 },
  ]);
});
