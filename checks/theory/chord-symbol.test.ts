/**
 * Notes of chord symbols, as pitch classes. Source: the general-purpose library chord-symbol 4.0.0 (MIT), an independent
 * reader; its notes are spelled by pitch class only, so spelling is checked in chord-symbol.test.ts of theory.
 */
import { describe, expect, test } from 'vitest';
import { formatNoteName, notesOfChord, readChordSymbol, setOfNotes, type PitchClassSet } from '@fivespan/core';
import { independentSet } from './chord-symbol.ts';

const ROOTS = ['C', 'Db', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B', 'Cb'];

/** Every kind, alone. */
const KINDS = [''].concat(
  'M maj m mi min - + aug dim ° o 5 sus sus4 sus2 6 m6 -6 6/9 69 m6/9 m69 7 9 11 13 maj7 M7 ma7 Δ Δ7 ^7'.split(' '),
  '^ maj9 Δ9 maj11 maj13 m7 mi7 min7 -7 m9 m11 m13 mM7 m(maj7) -Δ mmaj9 m(maj9) ø ø7 m7b5 -7b5 m9b5'.split(' '),
  'm11b5 dim7 °7 o7 dim(maj7) dim7M7 +7 aug7 7+ +M7 +maj7 maj7#5 7sus 7sus4 9sus 9sus4 13sus sus7 sus9'.split(' '),
  'sus13 7sus2 maj7sus4 6sus4 7alt alt add9 (add9) madd9 m(add9) add11 omit3 no3 (no3) (omit5) 7omit3'.split(' '),
  '7no5 addb9 m(b6) 11b9'.split(' '),
);

/** Alterations, alone and together, on the kinds they are written on. */
const FIFTHS = ['', 'b5', '#5'];
const NINTHS = ['', 'b9', '#9', 'b9#9'];
const ELEVENTHS = ['', '#11'];
const THIRTEENTHS = ['', 'b13'];
const ALTERED = ['7', '9', 'm7', 'maj7'].flatMap((kind) =>
  FIFTHS.flatMap((fifth) =>
    NINTHS.flatMap((ninth) =>
      ELEVENTHS.flatMap((eleventh) =>
        THIRTEENTHS.map((thirteenth) => [kind, fifth, ninth, eleventh, thirteenth] as const),
      ),
    ),
  ),
);

/** Combinations we refuse because the symbol contradicts itself: one key named twice, or a tension natural and altered. */
function isContradiction([kind, fifth, ninth, eleventh, thirteenth]: (typeof ALTERED)[number]): boolean {
  return (
    (fifth === 'b5' && eleventh === '#11') ||
    (fifth === '#5' && thirteenth === 'b13') ||
    (kind === '9' && ninth !== '') ||
    (kind === 'm7' && ninth.includes('#9'))
  );
}

const setOf = (symbol: string): PitchClassSet | string => {
  const chord = readChordSymbol(symbol);
  if (!chord.ok) return `refused: ${chord.issues[0]?.code}`;
  return chord.value.kind === 'chord' ? setOfNotes(notesOfChord(chord.value)) : 'no chord';
};

describe('notes of chord symbols equal an independent reader', () => {
  test.each(KINDS)('X%s on fifteen roots', (kind) => {
    for (const root of ROOTS) {
      const symbol = root + kind;
      // C flat with a diminished seventh would need a triple flat: refused, with B diminished as the remedy
      if (root === 'Cb' && /dim7|°7|o7/u.test(kind)) continue;
      const expected = independentSet(symbol);
      expect(expected, `${symbol}: not understood by the reference`).toBeDefined();
      expect(setOf(symbol), symbol).toBe(expected);
    }
  });

  test('every set of alterations of 7, 9, m7 and maj7, with parentheses and without', () => {
    let compared = 0;
    for (const altered of ALTERED) {
      const [kind, ...alterations] = altered;
      const written = alterations.filter((each) => each !== '');
      const symbol = `C${kind}${written.join('')}`;
      const inParentheses = written.length === 0 ? symbol : `C${kind}(${written.join(',')})`;
      if (isContradiction(altered)) {
        expect(setOf(symbol), symbol).toBe('refused: chord.contradiction');
        continue;
      }
      const expected = independentSet(symbol);
      expect(expected, `${symbol}: not understood by the reference`).toBeDefined();
      compared++;
      expect(setOf(symbol), symbol).toBe(expected);
      expect(setOf(inParentheses), inParentheses).toBe(expected);
    }
    expect(compared).toBe(ALTERED.filter((altered) => !isContradiction(altered)).length);
  });

  test('13 and its alterations', () => {
    for (const alteration of ['b9', '#9', '#11', 'b9#11', '#9#11', 'b9#9', 'b5', '#5']) {
      for (const kind of ['13', 'maj13']) {
        const symbol = `Bb${kind}${alteration}`;
        expect(setOf(symbol), symbol).toBe(independentSet(symbol));
      }
    }
  });

  // where we and the library part ways, and why: our choice, common practice
  test.each([
    ['C7(13)', 'C E G Bb A', 'a 13 in parentheses adds itself alone; the library adds a 9'],
    ['Cm7(11)', 'C Eb G Bb F', 'likewise'],
    ['Cdim9', 'C Eb Gb Bbb D', 'a diminished seventh chord with a 9; the library has a minor seventh'],
  ])('%s is %s: %s', (symbol, notes) => {
    const chord = readChordSymbol(symbol);
    const spelled =
      chord.ok && chord.value.kind === 'chord' ? notesOfChord(chord.value).map(formatNoteName).join(' ') : '';
    expect(spelled).toBe(notes);
    expect(setOf(symbol)).not.toBe(independentSet(symbol));
  });
});
