import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CHORD_KINDS_BY_SYMBOL } from './chord-kinds.ts';
import { isWritableOn, NO_CHORD, readChordSymbol } from './chord-symbol.ts';
import { setOfChord, type Chord } from './chord.ts';
import { degree, semitonesOf, type Degree } from './degree.ts';
import { accidentalsOf, formatNoteName, modulo, noteNameFromFifths, pitchClassOf } from './note-name.ts';
import { transposeSet } from './pitch-class-set.ts';
import { transposeChord } from './transpose-chord.ts';

const read = (text: string): Chord => {
  const result = readChordSymbol(text);
  if (!result.ok || result.value.kind !== 'chord') throw new Error(`${text} is not read as a chord`);
  return result.value;
};

describe('transposing a chord', () => {
  // exact where it can be written (common practice; design, section 4: spelling)
  test.each([
    ['G7', 'b5', 'Db7'],
    ['Dm7', '2', 'Em7'],
    ['Fm7b5', '3', 'Am7b5'],
    ['C7/E', 'b2', 'Db7/F'],
    ['Bb7(b9)/Ab', '4', 'Eb7(b9)/Db'],
    ['F#m7b5', '#1', 'Gm7b5'],
    ['Ab7', 'b5', 'D7'],
    ['B7', '#1', 'B#7'],
    ['Gbdim7', '4', 'Bdim7'],
    ['A7(#9)', '5', 'E7(#9)'],
    ['D7/F#', '#1', 'D#7/F##'],
  ])('%s up a %s is %s', (symbol, interval, expected) => {
    const moved = transposeChord(read(symbol), degree(interval));
    expect(moved.symbol).toBe(expected);
    expect(readChordSymbol(moved.symbol)).toEqual({ ok: true, value: moved, warnings: [] });
  });

  test('no chord stays none', () => expect(transposeChord(NO_CHORD, degree('5'))).toBe(NO_CHORD));

  test('it sounds moved by the interval, keeps its kind, needs one accidental at most; there and back where exact', () => {
    const roots = fc.integer({ min: -8, max: 12 });
    const intervals = fc.integer({ min: -12, max: 12 }).map((fifths) => fifths as Degree);
    fc.assert(
      fc.property(
        fc.constantFrom(...CHORD_KINDS_BY_SYMBOL),
        roots,
        intervals,
        fc.integer({ min: -12, max: 16 }),
        (kind, root, interval, bass) => {
          if (!isWritableOn(root, kind.degrees)) return;
          const chord = read(
            `${formatNoteName(noteNameFromFifths(root))}${kind.suffix}/${formatNoteName(noteNameFromFifths(bass))}`,
          );
          const moved = transposeChord(chord, interval) as Chord;
          expect(setOfChord(moved)).toBe(transposeSet(setOfChord(chord), semitonesOf(interval)));
          expect(moved.suffix).toBe(kind.suffix);
          expect(Math.abs(accidentalsOf(moved.root))).toBeLessThanOrEqual(1);
          if (chord.bass !== null) {
            const sounding = modulo(pitchClassOf(chord.bass) + semitonesOf(interval), 12);
            expect(moved.bass === null ? -1 : pitchClassOf(moved.bass)).toBe(sounding);
          }
          const isExact = moved.root === chord.root + interval;
          expect(isExact).toBe(isWritableOn(chord.root + interval, chord.degrees));
          const bassIsExact = chord.bass === null || moved.bass === chord.bass + interval;
          if (isExact && bassIsExact) expect(transposeChord(moved, (0 - interval) as Degree)).toEqual(chord);
        },
      ),
      { seed: 1, numRuns: 3000 },
    );
  });
});
