import fc from 'fast-check';
import { expect, test } from 'vitest';
import { noteName, pitchClass, type PitchClass } from './note-name.ts';
import {
  classesOf,
  containsClass,
  containsSet,
  differenceOf,
  pitchClassSet,
  setOfNotes,
  sizeOf,
  transposeSet,
  unionOf,
} from './pitch-class-set.ts';

const classes = fc.array(fc.integer({ min: 0, max: 11 }).map((value) => pitchClass(value)));

/** Every operation against the plain sets of the language. */
test('masks behave as sets', () => {
  fc.assert(
    fc.property(classes, classes, fc.integer({ min: -30, max: 30 }), (a, b, semitones) => {
      const [left, right] = [pitchClassSet(a), pitchClassSet(b)];
      const [plainLeft, plainRight] = [new Set(a), new Set(b)];
      const ascending = (set: Iterable<number>): number[] => [...set].toSorted((one, other) => one - other);
      expect(classesOf(left)).toEqual(ascending(plainLeft));
      expect(sizeOf(left)).toBe(plainLeft.size);
      expect(classesOf(unionOf(left, right))).toEqual(ascending(new Set([...a, ...b])));
      expect(classesOf(differenceOf(left, right))).toEqual(
        ascending(a.filter((each) => !plainRight.has(each)).filter(first)),
      );
      expect(containsSet(left, right)).toBe(b.every((each) => plainLeft.has(each)));
      for (let value = 0; value < 12; value++) {
        expect(containsClass(left, value as PitchClass)).toBe(plainLeft.has(value as PitchClass));
      }
      const moved = new Set(a.map((each) => (((each + semitones) % 12) + 12) % 12));
      expect(classesOf(transposeSet(left, semitones))).toEqual(ascending(moved));
      expect(transposeSet(transposeSet(left, semitones), -semitones)).toBe(left);
    }),
    { seed: 1 },
  );
});

function first<Item>(item: Item, index: number, all: readonly Item[]): boolean {
  return all.indexOf(item) === index;
}

test('notes fall on their pitch classes, whatever their spelling', () => {
  expect(setOfNotes(['Cb', 'B#', 'Gb'].map(noteName))).toBe(setOfNotes(['B', 'C', 'F#'].map(noteName)));
});
