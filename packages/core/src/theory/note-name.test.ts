import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  accidentalsOf,
  formatNoteName,
  HIGHEST_FIFTHS,
  letterOf,
  LOWEST_FIFTHS,
  modulo,
  noteName,
  noteNameFromFifths,
  parseNoteName,
  pitchClass,
  pitchClassOf,
  spellingsOf,
} from './note-name.ts';

/** Semitones of the letters above C: common practice. */
const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const ALL = Array.from({ length: HIGHEST_FIFTHS - LOWEST_FIFTHS + 1 }, (_, index) =>
  noteNameFromFifths(LOWEST_FIFTHS + index),
);

describe('note names', () => {
  test('each of the 35 spellings is written and read back, its pitch class letter plus accidentals', () => {
    expect(new Set(ALL.map(formatNoteName)).size).toBe(35);
    for (const name of ALL) {
      const text = formatNoteName(name);
      expect(parseNoteName(text)).toBe(name);
      expect(parseNoteName(text.replaceAll('b', '♭').replaceAll('#', '♯'))).toBe(name);
      expect(text).toHaveLength(1 + Math.abs(accidentalsOf(name)));
      expect(pitchClassOf(name)).toBe(modulo((SEMITONES[letterOf(name)] as number) + accidentalsOf(name), 12));
    }
  });

  test('all spellings of a pitch class, fewest accidentals first', () => {
    for (let value = 0; value < 12; value++) {
      for (const most of [0, 1, 2] as const) {
        const expected = ALL.filter((name) => pitchClassOf(name) === value && Math.abs(accidentalsOf(name)) <= most);
        const found = spellingsOf(pitchClass(value), most);
        expect(new Set(found)).toEqual(new Set(expected));
        const counts = found.map((name) => Math.abs(accidentalsOf(name)));
        expect(counts).toEqual(counts.toSorted((a, b) => a - b));
      }
    }
    expect(spellingsOf(pitchClass(11), 1).map(formatNoteName)).toEqual(['B', 'Cb']);
  });

  test('anything else is no note name', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 4 }), (text) => {
        const name = parseNoteName(text);
        if (name !== undefined) expect(formatNoteName(name)).toBe(text.replaceAll('♭', 'b').replaceAll('♯', '#'));
      }),
      { seed: 1 },
    );
    for (const text of ['', 'H', 'c', 'Cb#', 'C###', 'C ', 'Cbbb', '♭']) expect(parseNoteName(text)).toBeUndefined();
  });

  test("a programmer's mistake throws", () => {
    expect(() => noteName('H')).toThrow(TypeError);
    expect(() => noteNameFromFifths(20)).toThrow(RangeError);
    expect(() => noteNameFromFifths(-16)).toThrow(RangeError);
    expect(() => pitchClass(1.5)).toThrow(RangeError);
  });
});
