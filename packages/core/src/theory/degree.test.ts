import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  alterationOf,
  degree,
  degreeAbove,
  degrees,
  formatDegree,
  noteAbove,
  parseDegree,
  semitonesOf,
  stepOf,
} from './degree.ts';
import { formatNoteName, modulo, noteName, noteNameFromFifths, pitchClassOf } from './note-name.ts';

/** Semitones of the major scale's degrees: common practice. */
const MAJOR = [0, 2, 4, 5, 7, 9, 11];

describe('degrees', () => {
  test('step, alteration and semitones of every number with every accidental', () => {
    for (const accidentals of ['bb', 'b', '', '#', '##']) {
      const alteration = accidentals.startsWith('b') ? -accidentals.length : accidentals.length;
      for (let number = 1; number <= 15; number++) {
        const value = degree(accidentals + number);
        expect(stepOf(value)).toBe((number - 1) % 7);
        expect(alterationOf(value)).toBe(alteration);
        expect(semitonesOf(value)).toBe(modulo((MAJOR[(number - 1) % 7] as number) + alteration, 12));
        expect(degree(formatDegree(value))).toBe(value);
        expect(degree(formatDegree(value, 'extension'))).toBe(value);
      }
    }
  });

  test('the note above and the degree of a note are inverse, and semitones add up', () => {
    fc.assert(
      fc.property(fc.integer({ min: -6, max: 8 }), fc.integer({ min: -9, max: 11 }), (root, distance) => {
        const from = noteNameFromFifths(root);
        const value = degreeAbove(from, noteNameFromFifths(root + distance));
        const note = noteAbove(from, value);
        expect(note).toBe(root + distance);
        expect(modulo(pitchClassOf(note) - pitchClassOf(from), 12)).toBe(semitonesOf(value));
      }),
      { seed: 1 },
    );
  });

  // common practice: spelled by letter, not by key
  test.each([
    ['F', 'b5', 'Cb'],
    ['B', '#11', 'E#'],
    ['Db', 'b7', 'Cb'],
    ['G', '#9', 'A#'],
    ['E', '3', 'G#'],
    ['Gb', 'bb7', 'Fbb'],
  ])('the %s of %s is %s', (root, value, note) => {
    expect(formatNoteName(noteAbove(noteName(root), degree(value)))).toBe(note);
  });

  test('anything else is no degree', () => {
    for (const text of ['', '0', '16', 'b', 'b#3', '###4', '3b']) expect(parseDegree(text)).toBeUndefined();
    expect(() => degree('x')).toThrow(TypeError);
    expect(() => degrees('1  3')).toThrow(TypeError);
    expect(() => noteAbove(noteName('Cb'), degree('bb7'))).toThrow(RangeError);
  });
});
