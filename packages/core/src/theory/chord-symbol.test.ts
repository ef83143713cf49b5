import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { messageOf, remedyOf } from '../issue/index.ts';
import { CHORD_KINDS_BY_SYMBOL } from './chord-kinds.ts';
import { chordFromDegrees, isWritableOn, NO_CHORD, readChordSymbol } from './chord-symbol.ts';
import { notesOfChord, type Chord, type ChordQuality } from './chord.ts';
import { degrees, formatDegree, type Degree } from './degree.ts';
import { formatNoteName, noteName, noteNameFromFifths } from './note-name.ts';

const read = (text: string): Chord => {
  const result = readChordSymbol(text);
  if (!result.ok || result.value.kind !== 'chord') throw new Error(`${text} is not read as a chord`);
  return result.value;
};
const notes = (text: string): string => notesOfChord(read(text)).map(formatNoteName).join(' ');

describe('spelling: notes by letter, as a musician writes them (common practice)', () => {
  test.each([
    ['Fm7b5', 'F Ab Cb Eb'],
    ['Bb7(b9)', 'Bb D F Ab Cb'],
    ['B7', 'B D# F# A'],
    ['Ebm7', 'Eb Gb Bb Db'],
    ['Abm6', 'Ab Cb Eb F'],
    ['Bdim7', 'B D F Ab'],
    ['C#dim7', 'C# E G Bb'],
    ['Ebdim7', 'Eb Gb Bbb Dbb'],
    ['C+', 'C E G#'],
    ['Ab+7', 'Ab C E Gb'],
    ['E7(#9)', 'E G# B D F##'],
    ['Db7(#11)', 'Db F Ab Cb G'],
    ['F#7', 'F# A# C# E'],
    ['Gbmaj7', 'Gb Bb Db F'],
    ['Cb7', 'Cb Eb Gb Bbb'],
    ['C7alt', 'C E Bb Db D# F# Ab'],
    ['G7(b9,b13)', 'G B F Ab Eb'],
    ['C13', 'C E G Bb D A'],
    ['Cm13', 'C Eb G Bb D F A'],
    ['C9sus', 'C F G Bb D'],
    ['C6/9', 'C E G A D'],
  ])('%s is %s', (symbol, expected) => expect(notes(symbol)).toBe(expected));
});

describe('one canonical way, whatever the notation', () => {
  test.each([
    ['Ebmaj7', 'EbM7 Ebma7 EbMa7 EbMAJ7 Ebmaj7 EbΔ Eb△7 EbΔ7 Eb^ Eb^7 E♭△7'],
    ['Fm7', 'Fm7 Fmi7 Fmin7 F-7 FMI7 Fmin7 F–7'],
    ['Fm7b5', 'Fø Fø7 F-7b5 Fm7(b5) Fmi7♭5 Fm7-5 F-7(-5) Fmin7(b5)'],
    ['Bdim7', 'B°7 Bo7 Bdim7 BDim7'],
    ['Bdim', 'B° Bo Bdim Bmb5 Bm(b5)'],
    ['Cm(maj7)', 'CmM7 CmMaj7 C-Δ C-Δ7 Cm(maj7) Cmi(ma7) C-maj7 Cm/maj7 C-^7 Cmin(maj7) CmΔ'],
    ['C+', 'C+ Caug C(#5) C(+5)'],
    ['C+7', 'C+7 Caug7 C7+ C7#5 C7(#5) C7+5'],
    ['C+maj7', 'C+maj7 CaugM7 Cmaj7#5 CΔ(#5) C+Δ'],
    ['C6/9', 'C6/9 C69 C6(9) C6add9 CM6/9'],
    ['Cm6/9', 'Cm69 C-6/9 Cm6(9) Cmin6add9'],
    ['G7sus', 'G7sus G7sus4 Gsus7 G7(sus4)'],
    ['G9sus', 'G9sus G9sus4 G11 Gsus9 G7sus(9)'],
    ['G13sus', 'G13sus G13sus4 G7sus(9,13) G9sus13'],
    ['G7sus(b9)', 'G7sus(b9) G7susb9 G7sus4(b9) G7b9sus G7(b9)sus4 G11b9'],
    ['C7alt', 'C7alt Calt C7(alt) Calt7'],
    ['C7(b9,13)', 'C7(b9,13) C13b9 C13(b9) C7b9,13 C7(13,b9) C7b9(13) C7-9(13) C7(b9/13)'],
    ['C7(b9,#9)', 'C7(b9,#9) C7#9b9 C7(#9)(b9)'],
    ['C+7(#9)', 'C7(#5,#9) C+7(#9) C7#9#5 Caug7#9'],
    ['C9(#11)', 'C9#11 C9(#11) C7(9,#11) C9+11 C7/9/#11'],
    ['C13(#11)', 'C13#11 C13(#11) C7(9,#11,13)'],
    ['Ebmaj7(#11)', 'EbΔ7#11 EbM7(#11) Ebmaj7+11 Ebma7(♯11)'],
    ['C(add9)', 'Cadd9 C(add9) Cadd2 CMadd9 C2'],
    ['Cm(add9)', 'Cmadd9 Cm(add9) C-add9 Cmiadd9'],
    ['C5', 'C5 C(no3) Comit3 Cno3 C(omit3)'],
    ['C7(omit5)', 'C7no5 C7(omit5) C7(no5th)'],
    ['Csus', 'Csus Csus4 C4 C(sus4)'],
    ['Csus2', 'Csus2 C(sus2)'],
    ['Cm11', 'Cm11 C-11 Cm7(9,11) Cm9(11) Cm9add11'],
    ['Cm9b5', 'Cø9 Cm9b5 Cm9(b5) C-7b5(9)'],
    ['Cm(b6)', 'Cm(b6) Cmb6 Cm(addb6)'],
  ])('%s', (canonical, variants) => {
    for (const variant of variants.split(' ')) expect(read(variant).symbol, variant).toBe(canonical);
  });

  test.each(['N.C.', 'NC', 'n.c.', 'N.C', 'nc'])('%s: nobody plays a chord', (text) => {
    expect(readChordSymbol(text)).toEqual({ ok: true, value: NO_CHORD, warnings: [] });
  });

  test('a slash bass, in the chord or not; the root itself is none', () => {
    expect(read('D7/F#').symbol).toBe('D7/F#');
    expect(read('C/B♭').symbol).toBe('C/Bb');
    expect(notes('C/Bb')).toBe('C E G');
    expect(read('C6/9/E').symbol).toBe('C6/9/E');
    expect(read('C/C')).toEqual(read('C'));
    expect(read('Bb7(b9)/D').bass).toBe(noteName('D'));
  });
});

test.each<[ChordQuality, string]>([
  ['major', 'C CM7 C6/9 Cmaj7(#11) C(add9)'],
  ['minor', 'Cm Cm7 Cm6 Cm(maj7) Cm7(#5)'],
  ['dominant', 'C7 C9 C13 C7alt C+7 C7(b5) C7(omit3)'],
  ['half-diminished', 'Cm7b5 Cø9'],
  ['diminished', 'Cdim C°7 Cdim(maj7)'],
  ['augmented', 'C+ C+maj7'],
  ['suspended', 'Csus Csus2 C7sus C9sus(13) C11'],
  ['power', 'C5'],
])('quality %s', (quality, symbols) => {
  for (const symbol of symbols.split(' ')) expect(read(symbol).quality, symbol).toBe(quality);
});

describe('what is not understood', () => {
  // symbol, code, column, remedy
  test.each([
    ['C7(9,b9)', 'chord.contradiction', 6, 'C9'],
    ['C9(b9)', 'chord.contradiction', 4, 'C9'],
    ['C7(11,#11)', 'chord.contradiction', 7, 'C7(11)'],
    ['C7(b5,#11)', 'chord.contradiction', 7, 'C7(b5)'],
    ['C7(#5,b13)', 'chord.contradiction', 7, 'C+7'],
    ['Cm7(#9)', 'chord.contradiction', 5, 'Cm7'],
    ['C7sus(add3)', 'chord.contradiction', 7, 'C7sus'],
    ['Cm7sus', 'chord.contradiction', 4, 'Cm7'],
    ['C7alt(13)', 'chord.contradiction', 7, 'C7alt'],
    ['C7(omit9)', 'chord.contradiction', 4, 'C7'],
    ['C7#13', 'chord.unknown', 3, 'C13'],
    ['Fmx7', 'chord.unknown', 3, 'Fm7'],
    ['Bbmajj7', 'chord.unknown', 6, 'Bbmaj7'],
    ['C7(b9', 'chord.unknown', 3, 'C7(b9)'],
    ['C7b9)', 'chord.unknown', 5, 'C7(b9)'],
    ['C/H', 'chord.bass', 3, 'C'],
    ['C7/', 'chord.bass', 4, 'C7'],
    ['h7', 'chord.root', 1, 'B7'],
    ['ebm7', 'chord.root', 1, 'Ebm7'],
    ['Bbb7', 'chord.root-spelling', 1, 'A7'],
    ['F##m7', 'chord.root-spelling', 1, 'Gm7'],
    // two signs for one accidental
    ['Eb♭7', 'chord.root-spelling', 1, 'D7'],
    ['E♭b7', 'chord.root-spelling', 1, 'D7'],
    ['C#♯', 'chord.root-spelling', 1, 'D'],
    ['C♯#maj7', 'chord.root-spelling', 1, 'Dmaj7'],
    ['Bb♭b♭b♭b♭', 'chord.root-spelling', 1, 'Fm7'],
    ['Cbdim7', 'chord.unwritable', 1, 'Bdim7'],
    ['E#7(#9)', 'chord.unwritable', 1, 'F7(#9)'],
    ['', 'chord.root', 1, 'Fm7'],
  ])("'%s': %s at column %i, remedy %s", (text, code, column, remedy) => {
    const result = readChordSymbol(text);
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.issues).toHaveLength(1);
    const [issue] = result.issues;
    expect(issue).toMatchObject({ code, place: { column } });
    expect(issue && remedyOf(issue)).toContain(remedy);
    expect(issue && messageOf(issue)).toContain(`'${text}'`);
  });
});

describe('laws', () => {
  const roots = fc.integer({ min: -8, max: 12 }).map(noteNameFromFifths);
  const kinds = fc.constantFrom(...CHORD_KINDS_BY_SYMBOL);

  test('every kind is its own canonical form on every root', () => {
    for (const kind of CHORD_KINDS_BY_SYMBOL) {
      for (let fifths = -8; fifths <= 12; fifths++) {
        if (!isWritableOn(fifths, kind.degrees)) continue;
        const chord = read(formatNoteName(noteNameFromFifths(fifths)) + kind.suffix);
        expect(chord.suffix).toBe(kind.suffix);
        expect(chord.degrees).toEqual(kind.degrees);
        for (const other of kind.also)
          expect(read(`C${other.startsWith('#') ? `(${other})` : other}`).suffix).toBe(kind.suffix);
      }
    }
  });

  test('no two kinds have the same degrees or spelling', () => {
    expect(new Set(CHORD_KINDS_BY_SYMBOL.map((kind) => kind.degrees.toSorted((a, b) => a - b).join())).size).toBe(
      CHORD_KINDS_BY_SYMBOL.length,
    );
    const spellings = CHORD_KINDS_BY_SYMBOL.flatMap((kind) => [kind.suffix, ...kind.also]);
    expect(new Set(spellings).size).toBe(spellings.length);
  });

  test('what is read is written so that it reads the same, and only so', () => {
    const additions = fc.subarray('b5 #5 b9 9 #9 11 #11 b13 13 omit3 omit5 sus'.split(' '), { maxLength: 4 });
    const seen = new Map<string, string>();
    let readable = 0;
    fc.assert(
      fc.property(roots, kinds, additions, (root, kind, list) => {
        const text = `${formatNoteName(root)}${kind.suffix}${list.length > 0 ? `(${list.join(',')})` : ''}`;
        const result = readChordSymbol(text);
        if (!result.ok || result.value.kind === 'no chord') return;
        readable++;
        const chord = result.value;
        expect(readChordSymbol(chord.symbol), `${text} → ${chord.symbol}`).toEqual({
          ok: true,
          value: chord,
          warnings: [],
        });
        const key = chord.degrees.map((each) => formatDegree(each)).join(' ');
        expect(seen.get(key) ?? chord.suffix, key).toBe(chord.suffix);
        seen.set(key, chord.suffix);
        expect(new Set(chord.degrees).size).toBe(chord.degrees.length);
        expect(chordFromDegrees(chord.root, chord.degrees, chord.bass)).toEqual(chord);
      }),
      { seed: 1, numRuns: 4000 },
    );
    expect(readable).toBeGreaterThan(1000);
  });

  test('any text gives a chord or one issue, never an exception', () => {
    const pieces = fc.array(
      fc.constantFrom(
        ...'C Bb F# m maj 7 9 11 13 b # ( ) , / sus alt dim ø ° + - Δ add omit no 6 5 % & | x'.split(' '),
        ' ',
      ),
      { maxLength: 9 },
    );
    fc.assert(
      fc.property(
        fc.oneof(
          pieces.map((each) => each.join('')),
          fc.string({ unit: 'binary' }),
        ),
        (text) => {
          const result = readChordSymbol(text);
          if (result.ok) return;
          expect(result.issues).toHaveLength(1);
          const column = result.issues[0]?.place.column ?? 0;
          expect(column >= 1 && column <= text.length + 1, text).toBe(true);
        },
      ),
      { seed: 1, numRuns: 5000 },
    );
  });

  test('any degrees give a chord that reads back as these, or undefined', () => {
    const all = degrees('b9 9 #9 b3 3 11 #11 b5 5 #5 6 b13 bb7 b7 7');
    let found = 0;
    fc.assert(
      fc.property(roots, fc.subarray([...all]), (root, extra) => {
        const chord = chordFromDegrees(root, [0 as Degree, ...extra], null);
        if (chord === undefined) return;
        found++;
        expect(read(chord.symbol)).toEqual(chord);
      }),
      { seed: 1, numRuns: 3000 },
    );
    expect(found).toBeGreaterThan(20);
    expect(chordFromDegrees(noteName('F'), degrees('b5 1 b7 b3'), noteName('Cb'))?.symbol).toBe('Fm7b5/Cb');
    expect(chordFromDegrees(noteName('C'), degrees('1 b3 3 5'), null)).toBeUndefined();
  });
});
