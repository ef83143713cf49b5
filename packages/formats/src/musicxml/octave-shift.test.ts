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

// common practice: 8va over a passage, not over a note; nothing under it falls far below the staff
it('a phrase over three ledger lines goes under an 8va line as a whole, or not at all', () => {
  expect(octaveShifts(eighths([72, 79, 84, 89, 91, 84, 74, 72]))).toEqual([{ startTicks: 0, endTicks: 3840 }]);
  expect(octaveShifts(eighths([71, 79, 84, 89, 91, 84, 74, 72]))).toEqual([]);
  expect(octaveShifts(eighths([72, 79, 84, 89, 84, 79]))).toEqual([]);
  expect(octaveShifts(eighths([60, 64, 67, 72, 76, 79]))).toEqual([]);
});

it('a line begins and ends at a rest of a quarter, never between two notes that follow each other', () => {
  const after = [...eighths([60, 64, 67]), ...eighths([88, 91, 88], 3 * 480 + 960)];
  expect(octaveShifts(after)).toEqual([{ startTicks: 2400, endTicks: 3840 }]);
  const withoutBreath = [...eighths([60, 64, 67]), ...eighths([88, 91, 88], 4 * 480)];
  expect(octaveShifts(withoutBreath)).toEqual([]);
});

it('a bar of silence parts two passages, and each must have high notes of its own', () => {
  const parted = [...eighths([84, 89]), ...eighths([91, 84], 6000)];
  expect(octaveShifts(parted)).toEqual([]);
  const both = [...eighths([88, 89]), ...eighths([91, 88], 6000)];
  expect(octaveShifts(both)).toEqual([
    { startTicks: 0, endTicks: 960 },
    { startTicks: 6000, endTicks: 6960 },
  ]);
  const near = [...eighths([88, 89]), ...eighths([91, 88], 3840)];
  expect(octaveShifts(near)).toEqual([{ startTicks: 0, endTicks: 4800 }]);
  const low = [...eighths([88, 89]), ...eighths([60], 1920), ...eighths([91, 88], 3840)];
  expect(octaveShifts(low)).toEqual([
    { startTicks: 0, endTicks: 960 },
    { startTicks: 3840, endTicks: 4800 },
  ]);
});
