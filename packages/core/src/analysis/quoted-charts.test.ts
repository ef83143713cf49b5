import { describe, expect, test } from 'vitest';
import { readChart } from '../chart/index.ts';
import { accidentalsOf, formatKey, formatNoteName, namesOfChord, pitchClassOf, type Chord } from '../theory/index.ts';
import { analyse } from './analyse.ts';
import { NO_ANALYSIS_PINS, type Analysis } from './analysis.ts';

// Source of what is expected: common practice, as a teacher says it.

function read(text: string): Analysis {
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return analyse(chart.value, NO_ANALYSIS_PINS);
}

const scales = (text: string): string =>
  read(text)
    .slots.map(({ chordScales: [first] }) =>
      first === undefined ? '–' : `${formatNoteName(first.scale.root)} ${first.name}`,
    )
    .join(', ');
const numerals = (text: string): string =>
  read(text)
    .slots.map(({ reading }) => reading.numeral)
    .join(' ');
const figures = (text: string): string[] => read(text).cadences.map(({ kind, key }) => `${kind} in ${formatKey(key)}`);
const bassIsAvoided = (text: string): boolean =>
  read(text).slots.some(
    ({ chord, chordScales: [first] }) => first?.avoid.some(({ note }) => note === chord?.bass) === true,
  );

describe('modes', () => {
  test.each([
    ['Am | F | C | G', 'A Aeolian, F Lydian, C Ionian, G Mixolydian'],
    ['Am | G | F | G', 'A Aeolian, G Mixolydian, F Lydian, G Mixolydian'],
    ['Em | Fmaj7', 'E Phrygian, F Lydian'],
    ['D7 | C', 'D Mixolydian, C Lydian'],
    ['Gm7 | C7', 'G Dorian, C Mixolydian'],
    ['Gm7 | Am7 | Gm7 | Am7', 'G Dorian, A Phrygian, G Dorian, A Phrygian'],
    ['Dm7 | Ebm7 | Dm7 | Ebm7', 'D Dorian, Eb Dorian, D Dorian, Eb Dorian'],
    ['Dm | C#dim7 | Dm', 'D melodic minor, C# altered bb7, D melodic minor'],
    ['Dm7b5 | G7 | Cmaj7', 'D Locrian natural 2, G Mixolydian b9 b13, C Ionian'],
  ])('%s', (text, expected) => {
    expect(scales(text)).toBe(expected);
  });

  test('bVII and v in minor are no V', () => {
    expect(figures('Am | F | C | G | Am | Em7 | Am | %')).not.toContain('V-I in A minor');
  });

  test('i6 IV7 to and fro is no ii–V', () => {
    expect(numerals('Cm6 | F7 | Cm6 | F7')).toBe('im6 IV7 im6 IV7');
    expect(figures('Cm6 | F7 | Cm6 | F7')).toEqual([]);
  });

  test('sixteen bars of one seventh chord are a modal stretch', () => {
    expect(figures(Array.from({ length: 16 }, () => 'F7').join(' | '))).toEqual(['modal stretch in F major']);
  });

  test('a constant structure needs three roots and a seventh', () => {
    expect(figures('Dm7 | Ebm7 | Dm7 | Ebm7')).not.toContain('constant structure in D minor');
    expect(figures('Cm11 | Ebm11 | Gbm11 | Am11')).toContain('constant structure in C minor');
  });
});

test('a major seventh over a minor ninth is read', () => {
  expect(numerals('Cm9(maj7)')).toBe('im(maj9)');
  expect(scales('Cm9(maj7)')).toBe('C melodic minor');
});

describe('names', () => {
  const overIn = (text: string, index: number): string => {
    const { chord, reading } = read(text).slots[index] as Analysis['slots'][number];
    return namesOfChord(chord as Chord, reading.key)
      .map(formatNoteName)
      .join(' ');
  };

  test('an altered scale on another root as on its own', () => {
    const { chordScales } = read('key: Eb major\n| Fm7 | Bb7alt | Ebmaj7 |').slots[1] as Analysis['slots'][number];
    const below = chordScales.find(({ id }) => id === 'altered@7');
    expect(below?.notes.map(formatNoteName).join(' ')).toBe('A Bb C C# Eb F G');
  });

  test('a diminished seventh in the key it stands in', () => {
    expect(overIn('key: G major\n| Bm7 | Bbdim7 | Am7 | D7 |', 1)).toBe('Bb Db E G');
  });

  test.each([
    ['key: C# minor\n| D#m7b5 | G#7alt | C#m6 |', 1],
    ['key: Db major\n| Ebm7 | Ab7 | Dbmaj7 |', 2],
    ['key: C# major\n| D#m7 | G#7 | C#maj7 |', 2],
    ['key: F major\n| Db7 | C7 | Fmaj7 |', 0],
  ])(
    '%s: every scale on its own root has its name, no listed note a double accidental outside the chord',
    (text, index) => {
      const { chord, chordScales } = read(text).slots[index] as Analysis['slots'][number];
      for (const { scale, notes, kept } of chordScales) {
        if (pitchClassOf(scale.root) === pitchClassOf(chord!.root)) expect(scale.root).toBe(chord!.root);
        const doubles = notes.filter((each) => Math.abs(accidentalsOf(each)) > 1 && !kept.includes(each));
        expect(doubles).toEqual([]);
      }
    },
  );
});

describe('root and upper chord as one sonority', () => {
  test.each([
    ['Cmaj7 | G/C | D/C | Cmaj7', 'Imaj7 Imaj9(omit3) I6/9(#11) Imaj7', 'C Ionian, C Ionian, C Lydian, C Ionian'],
    ['Dm7 | F/G | Cmaj7', 'iim7 V9sus Imaj7', 'D Dorian, G Mixolydian, C Ionian'],
    ['Gm7 | Gb/C | F6', 'iim7 V7(b5,b9) I6', 'G Dorian, C altered, F Ionian'],
    ['Dm7 | E/G | Cmaj7', 'iim7 V7(b9,13) Imaj7', 'D Dorian, G half-whole diminished, C Ionian'],
    ['Dm7 | Ab/G | Cmaj7', 'iim7 V7sus(b9) Imaj7', 'D Dorian, G Dorian b2, C Ionian'],
    ['F#m7 | Bm7/E | Amaj7', 'vim7 V9sus Imaj7', 'F# Aeolian, E Mixolydian, A Ionian'],
  ])('%s; the bass is no avoid note', (text, readings, expected) => {
    expect(numerals(text)).toBe(readings);
    expect(scales(text)).toBe(expected);
    expect(bassIsAvoided(text)).toBe(false);
  });
});

describe('cadences', () => {
  test('a fast cycle by thirds has each of its V–Is named', () => {
    const found = figures('Bmaj7 D7 | Gmaj7 Bb7 | Ebmaj7 | Am7 D7 | Gmaj7 Bb7 | Ebmaj7 F#7 | Bmaj7');
    expect(found.filter((each) => each === 'V-I in Eb major')).toHaveLength(2);
    expect(found).toContain('V-I in G major');
    expect(found).toContain('V-I in B major');
  });

  test('a key line does not hide the V–I across it', () => {
    const text = 'key: G minor\n| Gm | C7(b9) |\nkey: F major\n| Fmaj7 | Fmaj7 |';
    expect(numerals(text)).toBe('iim V7(b9) Imaj7 Imaj7');
    expect(scales(text).split(', ')[1]).toBe('C half-whole diminished');
  });
});

describe('the blues scale', () => {
  test("is the tonic's, and second on I7, IV7 and V7", () => {
    const { slots } = read('F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | F7 | C7 | Bb7 | F7 | C7');
    for (const { chordScales } of slots) {
      expect(chordScales[1]?.notes.map(formatNoteName).join(' ')).toBe('F Ab Bb Cb C Eb');
    }
  });
});
