import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  accidentalsOf,
  degree,
  degreeAbove,
  formatKey,
  formatNoteName,
  modulo,
  noteNameFromFifths,
  notesOfChord,
  parseKey,
  pitchClassOf,
  semitonesOf,
  setOfChord,
  signatureOf,
  transposeSet,
  usualKeys,
  type Chord,
  type Degree,
  type Key,
} from '../theory/index.ts';
import { barsOf, type Chart } from './chart.ts';
import { chartForInstrument } from './instrument.ts';
import { inventedChart } from './invented-chart.ts';
import { readChart } from './read-chart.ts';
import { transposeChart, transposeChartBy } from './transpose-chart.ts';
import { writeChart } from './write-chart.ts';

const read = (text: string): Chart => {
  const chart = readChart(text);
  if (!chart.ok) throw new Error(JSON.stringify(chart.issues));
  return chart.value;
};
const key = (text: string): Key => parseKey(text) as Key;
const symbols = (chart: Chart): string =>
  barsOf(chart)
    .flatMap((bar) => bar.slots.map((slot) => slot.chord.symbol))
    .join(' ');
const chordsOf = (chart: Chart): Chord[] =>
  barsOf(chart)
    .flatMap((bar) => bar.slots.map((slot) => slot.chord))
    .filter((chord) => chord.kind === 'chord');

/** All keys with up to seven accidentals of a mode: fifteen. */
const fifteenKeys = (mode: Key['mode']): Key[] =>
  Array.from({ length: 15 }, (_, index) => {
    const signature = index - 7;
    return { tonic: noteNameFromFifths(mode === 'major' ? signature : signature + 3), mode };
  });

describe('transposing a chart', () => {
  // a ii-V-I with a substitute and a minor ii-V in fifteen keys, spelled as written there (common practice)
  test.each([
    ['C', 'Dm7 G7 Cmaj7 Db7 Em7b5 A7(b9) F#dim7'],
    ['F', 'Gm7 C7 Fmaj7 Gb7 Am7b5 D7(b9) Bdim7'],
    ['Bb', 'Cm7 F7 Bbmaj7 B7 Dm7b5 G7(b9) Edim7'],
    ['Eb', 'Fm7 Bb7 Ebmaj7 E7 Gm7b5 C7(b9) Adim7'],
    ['Ab', 'Bbm7 Eb7 Abmaj7 A7 Cm7b5 F7(b9) Ddim7'],
    ['Db', 'Ebm7 Ab7 Dbmaj7 D7 Fm7b5 Bb7(b9) Gdim7'],
    ['Gb', 'Abm7 Db7 Gbmaj7 G7 Bbm7b5 Eb7(b9) Cdim7'],
    ['Cb', 'Dbm7 Gb7 Cbmaj7 C7 Ebm7b5 Ab7(b9) Fdim7'],
    ['G', 'Am7 D7 Gmaj7 Ab7 Bm7b5 E7(b9) C#dim7'],
    ['D', 'Em7 A7 Dmaj7 Eb7 F#m7b5 B7(b9) G#dim7'],
    ['A', 'Bm7 E7 Amaj7 Bb7 C#m7b5 F#7(b9) D#dim7'],
    ['E', 'F#m7 B7 Emaj7 F7 G#m7b5 C#7(b9) A#dim7'],
    ['B', 'C#m7 F#7 Bmaj7 C7 D#m7b5 G#7(b9) E#dim7'],
    ['F#', 'G#m7 C#7 F#maj7 G7 A#m7b5 D#7(b9) B#dim7'],
    ['C#', 'D#m7 G#7 C#maj7 D7 E#m7b5 A#7(b9) Gdim7'],
  ])('to %s major', (tonic, expected) => {
    const chart = read('key: C\n| Dm7 | G7 | Cmaj7 Db7 | Em7b5 A7(b9) | F#dim7 |');
    const moved = transposeChart(chart, key(tonic));
    expect(symbols(moved)).toBe(expected);
    expect(moved.key && formatKey(moved.key)).toBe(`${tonic} major`);
  });

  test('the mode stays, the tonic is obeyed where that key can be written', () => {
    const minor = read('key: C minor\n| Cm6 | Dm7b5 G7alt |');
    expect(symbols(transposeChart(minor, key('Eb major')))).toBe('Ebm6 Fm7b5 Bb7alt');
    expect(symbols(transposeChart(minor, key('D# minor')))).toBe('D#m6 E#m7b5 A#7alt');
    // D flat minor would have eight flats
    const sharp = transposeChart(minor, key('Db major'));
    expect(sharp.key && formatKey(sharp.key)).toBe('C# minor');
    expect(symbols(sharp)).toBe('C#m6 D#m7b5 G#7alt');
  });

  test('a key change goes along; where its signature could not be written, that stretch is spelled the other way', () => {
    const chart = read('key: C\n| C | G7 |\nkey: E\n| Emaj7 | B7 |\nkey: C\n| C |');
    const moved = transposeChart(chart, key('F#'));
    const changes = barsOf(moved).map((bar) => (bar.keyChange === null ? '' : formatKey(bar.keyChange)));
    expect(changes).toEqual(['', '', 'Bb major', '', 'F# major']);
    expect(symbols(moved)).toBe('F# C#7 Bbmaj7 F7 F#');
  });

  // common practice: a ii-V is spelled in one way
  test.each([
    ['C', 'Gb', '| Bbm7 Eb7 | Abmaj7 |', 'Em7 A7 Dmaj7'],
    ['C', 'Cb', '| Fm7 Bb7 | Ebmaj7 |', 'Em7 A7 Dmaj7'], // one cadence, one spelling, though F flat belongs to C flat major
    ['C', 'Gb', '| Fm7 Bb7 | Cmaj7 |', 'Bm7 E7 Gbmaj7'], // a backdoor dominant by its simple name
    ['C', 'C#', '| F#m7b5 B7 | Em7 |', 'Gm7b5 C7 Fm7'],
    ['C', 'Gb', '| Bbm7 | N.C. | Eb7 |', 'Em7 N.C. A7'],
    ['C', 'Gb', '| Db7 | Cmaj7 |', 'G7 Gbmaj7'], // into G flat one writes G7
    ['Eb', 'F#', '| Am7b5 | D7alt | Gm6 | Gm6 |', 'Cm7b5 F7alt Bbm6 Bbm6'],
    ['C#', 'Gb', '| Fb7 | C#maj7 |', 'A7 Gbmaj7'], // no triple flat
  ])('from %s to %s: %s is %s', (from, to, bars, expected) => {
    expect(symbols(transposeChart(read(`key: ${from}\n${bars}`), key(to)))).toBe(expected);
  });

  const BRIDGE =
    'key: F\nA:\n| Fmaj7 | Gm7 C7 |\nB:\nkey: A\n| Amaj7 | Bm7 E7 | Am7b5 D7alt | Gm7/F Em7b5/Bb | C7(b9) |\nC:\nkey: F\n| Fmaj7 |';

  test('a bridge in A of a tune in F, put into E: what leads back to E is written with sharps', () => {
    const inE = symbols(transposeChart(read(BRIDGE), key('E')));
    expect(inE).toBe('Emaj7 F#m7 B7 Abmaj7 A#m7 D#7 G#m7b5 C#7alt F#m7/E D#m7b5/A B7(b9) Emaj7');
  });

  test('the way taken does not matter; home is the identity', () => {
    const chart = read(BRIDGE);
    const byE = transposeChart(transposeChart(chart, key('E')), key('A'));
    expect(symbols(byE)).toBe(symbols(transposeChart(chart, key('A'))));
    expect(symbols(transposeChart(transposeChart(chart, key('E')), key('F')))).toBe(symbols(chart));
    expect(transposeChart(chart, key('F'))).toEqual(chart);
  });

  // by hand: a stretch that states no key of its own, a half step up; flats where the key has them
  const HALF_STEP_UP =
    'key: Db\n| Dbmaj7 | Ebm7 Ab7 | Dbmaj7 | C#7 |\nB:\n| Em7 | A7 | Dmaj7 | B7 |\n| F#m7 B7 | Em7 A7 |\nC:\n| Ebm7 Ab7 | Dbmaj7 |';

  test.each([
    ['C', 'Cmaj7 Dm7 G7 Cmaj7 C7 Ebm7 Ab7 Dbmaj7 Bb7 Fm7 Bb7 Ebm7 Ab7 Dm7 G7 Cmaj7'],
    ['E', 'Emaj7 F#m7 B7 Emaj7 E7 Gm7 C7 Fmaj7 D7 Am7 D7 Gm7 C7 F#m7 B7 Emaj7'],
    ['B', 'Bmaj7 C#m7 F#7 Bmaj7 B7 Dm7 G7 Cmaj7 A7 Em7 A7 Dm7 G7 C#m7 F#7 Bmaj7'],
  ])('a bridge in D of a tune in D flat, put into %s', (to, expected) => {
    expect(symbols(transposeChart(read(HALF_STEP_UP), key(to)))).toBe(expected);
  });

  // common practice: what one key forces on a chart stays in that key
  test.each([
    ['Eb', 'Abm7 Db7 | Ebmaj7', ['Gb', 'C'], 'Fm7 Bb7 Cmaj7'], // in G flat Bm7 E7
    ['G', 'Ab7 | Gmaj7', ['Bb', 'C'], 'Db7 Cmaj7'], // in B flat B7
    ['G', 'Bm7 | Bbdim7 | Am7', ['Db', 'Eb'], 'Gm7 Gbdim7 Fm7'], // in D flat Edim7
    ['F', 'Bb7 | Bdim7 | F7', ['C#', 'G'], 'C7 C#dim7 G7'], // in C sharp Gdim7
    ['Eb', 'Am7b5 | D7alt | Gm6', ['F#', 'G'], 'C#m7b5 F#7alt Bm6'], // in F sharp Cm7b5 F7alt Bbm6
  ])('from %s: %s by way of %s', (from, bars, way, expected) => {
    const moved = way.reduce((chart, to) => transposeChart(chart, key(to)), read(`key: ${from}\n| ${bars} |`));
    expect(symbols(moved)).toBe(expected);
  });

  test('without a stated key the one found is given', () => {
    const chart = read('| Dm7 | G7 | Cmaj7 |');
    expect(() => transposeChart(chart, key('F'))).toThrow(TypeError);
    expect(symbols(transposeChart(chart, key('F'), key('C')))).toBe('Gm7 C7 Fmaj7');
    expect(symbols(transposeChartBy(chart, degree('b3')))).toBe('Fm7 Bb7 Ebmaj7');
  });

  // concert C: what the players read (common practice)
  test.each([
    ['C', 'C major', 'Dm7 G7 Cmaj7'],
    ['Bb', 'D major', 'Em7 A7 Dmaj7'],
    ['Eb', 'A major', 'Bm7 E7 Amaj7'],
    ['F', 'G major', 'Am7 D7 Gmaj7'],
    ['A', 'Eb major', 'Fm7 Bb7 Ebmaj7'],
    ['G', 'F major', 'Gm7 C7 Fmaj7'],
  ] as const)('a part in %s is in %s', (instrument, expectedKey, expected) => {
    const part = chartForInstrument(read('key: C\n| Dm7 | G7 | Cmaj7 |'), instrument);
    expect(part.key && formatKey(part.key)).toBe(expectedKey);
    expect(symbols(part)).toBe(expected);
  });

  test('a part whose key could not be written takes the usual one: concert B for E flat is A flat, not G sharp', () => {
    const part = chartForInstrument(read('key: B\n| C#m7 | F#7 | Bmaj7 |'), 'Eb');
    expect(part.key && formatKey(part.key)).toBe('Ab major');
    expect(symbols(part)).toBe('Bbm7 Eb7 Abmaj7');
  });

  test.each([
    ['B', 'Bb', 'Db major', 'Ebm7 Ab7 Dbmaj7'], // seven sharps as C sharp
    ['E', 'Bb', 'F# major', 'G#m7 C#7 F#maj7'],
  ] as const)('concert %s for %s is in %s', (concert, instrument, expectedKey, expected) => {
    const bars = { B: '| C#m7 | F#7 | Bmaj7 |', E: '| F#m7 | B7 | Emaj7 |' }[concert];
    const part = chartForInstrument(read(`key: ${concert}\n${bars}`), instrument);
    expect(part.key && formatKey(part.key)).toBe(expectedKey);
    expect(symbols(part)).toBe(expected);
  });
});

describe('laws', () => {
  const inKey = fc.tuple(inventedChart, fc.constantFrom(...fifteenKeys('major'), ...fifteenKeys('minor')));
  const withKey = (text: string, from: Key): Chart => read(`key: ${formatKey(from)}\n${text}`);

  test('it sounds moved by one interval; the key asked for is obeyed; roots need one accidental at most; ids stay', () => {
    fc.assert(
      fc.property(inKey, fc.nat(14), ([{ text }, from], choice) => {
        const chart = withKey(text, from);
        const to = fifteenKeys(from.mode)[choice] as Key;
        const moved = transposeChart(chart, to);
        expect(moved.key).toEqual(to);
        const semitones = pitchClassOf(to.tonic) - pitchClassOf(from.tonic);
        const [before, after] = [chordsOf(chart), chordsOf(moved)];
        for (const [index, chord] of before.entries()) {
          const other = after[index] as Chord;
          expect(setOfChord(other)).toBe(transposeSet(setOfChord(chord), semitones));
          expect(Math.abs(accidentalsOf(other.root))).toBeLessThanOrEqual(1);
          expect(notesOfChord(other).map(formatNoteName)).toHaveLength(chord.degrees.length);
        }
        expect(barsOf(moved).map((bar) => bar.slots.map((slot) => slot.id))).toEqual(
          barsOf(chart).map((bar) => bar.slots.map((slot) => slot.id)),
        );
        // a transposed chart is a chart like any other
        expect(read(writeChart(moved))).toEqual(moved);
      }),
      { seed: 1, numRuns: 300 },
    );
  });

  test('there and back is the same chart where it is written as its key has it and no root moved to another name', () => {
    let exact = 0;
    fc.assert(
      fc.property(inKey, fc.nat(14), ([{ text }, from], choice) => {
        const to = fifteenKeys(from.mode)[choice] as Key;
        // names that no key has are left behind with the first move
        const chart = transposeChart(transposeChart(withKey(text, from), to), from);
        const moved = transposeChart(chart, to);
        const interval = degreeAbove(from.tonic, to.tonic);
        const [before, after] = [chordsOf(chart), chordsOf(moved)];
        const isExact = before.every((chord, index) => {
          const other = after[index] as Chord;
          const bass = chord.bass === null || other.bass === chord.bass + interval;
          return other.root === chord.root + interval && bass;
        });
        if (!isExact) return;
        exact++;
        expect(transposeChart(moved, from)).toEqual(chart);
      }),
      { seed: 2, numRuns: 300 },
    );
    expect(exact).toBeGreaterThan(80);
  });

  test('twelve keys agree: each made from any other sounds the same, and where exact is spelled the same', () => {
    const chart = read('key: C\n| Dm7 G7 | Cmaj7 A7(b9) | Dm7 G7 | Cmaj7 |');
    const inTwelve = usualKeys('major').map((to) => transposeChart(chart, to));
    for (const one of inTwelve) {
      for (const other of inTwelve) expect(transposeChart(one, other.key as Key)).toEqual(other);
    }
  });

  test('by an interval: signatures stay within seven accidentals', () => {
    fc.assert(
      fc.property(inKey, fc.integer({ min: -12, max: 12 }), ([{ text }, from], fifths) => {
        const moved = transposeChartBy(withKey(text, from), fifths as Degree);
        expect(Math.abs(signatureOf(moved.key as Key))).toBeLessThanOrEqual(7);
        expect(pitchClassOf((moved.key as Key).tonic)).toBe(
          modulo(pitchClassOf(from.tonic) + semitonesOf(fifths as Degree), 12),
        );
      }),
      { seed: 3, numRuns: 100 },
    );
  });
});
