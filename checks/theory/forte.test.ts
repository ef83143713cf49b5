/**
 * Five-note classes, their names, and which of them lie in which scale.
 * Sources: Forte 1973 (class names and prime forms as in docs/sources.md, 8; marks R and C there); the scale
 * dictionaries of the libraries tonal 6.4.2 and @musodojo/music-theory-data 28.0.0.
 */
import { noteCollections } from '@musodojo/music-theory-data';
import { ScaleType } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  ALL_SHAPES,
  coverOf,
  degrees,
  familyIn,
  findShape,
  forteNameOf,
  formatNoteName,
  intervalVectorOf,
  MINOR_PENTATONIC,
  MINOR_SIX_PENTATONIC,
  modulo,
  noteAbove,
  noteName,
  PENTACHORDS,
  pitchClassOf,
  primeFormOf,
  semitonesOf,
  setOfSteps,
  SHAPE_CLASSES,
  thumbsIn,
  type NoteName,
  type PitchClassSet,
} from '@fivespan/core';

const steps = (digits: string): number[] => [...digits].map((each) => (each === 'T' ? 10 : Number(each)));

const notesOf = (root: string, spelled: string): NoteName[] =>
  degrees(spelled).map((each) => noteAbove(noteName(root), each));
const thumbsOf = (shape: typeof MINOR_PENTATONIC, notes: NoteName[]): string =>
  familyIn(shape, notes)
    .positions.map((each) => formatNoteName(each.thumb))
    .join(' ');

/** docs/sources.md, 8 (R; vectors C). */
const PUBLISHED: readonly (readonly [name: string, digits: string, vector: string | null])[] = [
  ['5-35', '02479', '032140'],
  ['5-34', '02469', '032221'],
  ['5-33', '02468', '040402'],
  ['5-32', '01469', '113221'],
  ['5-31', '01369', null],
  ['5-27', '01358', null],
  ['5-23', '02357', null],
  ['5-24', '01357', null],
  ['5-29', '01368', null],
  ['5-30', '01468', null],
  ['5-20', '01378', null], // Rahn: 01568
];

describe("Forte's list", () => {
  it.each(PUBLISHED)('%s is %s', (name, digits, vector) => {
    const set = setOfSteps(steps(digits));
    expect(forteNameOf(set).replace(/[AB]$/u, '')).toBe(name);
    expect(primeFormOf(set).join('')).toBe(digits);
    if (vector !== null) expect(intervalVectorOf(set).join('')).toBe(vector);
  });

  it('each prime form is the one his algorithm finds', () => {
    for (const { primeForm } of PENTACHORDS) expect(primeFormOf(setOfSteps(primeForm))).toEqual(primeForm);
  });

  // The book orders classes by their vectors, falling; the second of two with one vector (Z) stands at the end.
  it('is in the order of the interval vectors', () => {
    const vectors = PENTACHORDS.map((each) => each.intervalVector.join(''));
    const first = vectors.slice(0, 35);
    expect(first).toEqual([...new Set(first)].sort().reverse());
    expect(vectors.slice(35)).toEqual(['222121', '212320', '212221']);
    expect(PENTACHORDS.filter((each) => each.name.includes('Z')).map((each) => each.name)).toEqual(
      PENTACHORDS.filter((_, index) => vectors.filter((each) => each === vectors[index]).length > 1).map(
        (each) => each.name,
      ),
    );
  });

  it('has 38 classes, 66 when inversions count, 330 shapes; together all sets of five', () => {
    expect(PENTACHORDS.length).toBe(38);
    expect(SHAPE_CLASSES.length).toBe(66);
    expect(new Set(ALL_SHAPES.map((each) => each.steps.join())).size).toBe(330);
    const setsByName = new Map<string, number>();
    for (let mask = 0; mask < 4096; mask++) {
      if (mask.toString(2).replaceAll('0', '').length !== 5) continue;
      const name = forteNameOf(mask as PitchClassSet);
      setsByName.set(name, (setsByName.get(name) ?? 0) + 1);
    }
    expect([...setsByName.values()]).toEqual(Array.from({ length: 66 }, () => 12));
  });
});

describe('trade names', () => {
  // our identifier, and the name the dictionaries use
  it.each([
    ['major-pentatonic', 'major pentatonic'],
    ['minor-pentatonic', 'minor pentatonic'],
    ['minor-six-pentatonic', 'minor six pentatonic'],
    ['suspended-pentatonic', 'egyptian'],
    ['half-diminished-pentatonic', 'minor seven flat five pentatonic'],
    ['major-flat-six-pentatonic', 'flat six pentatonic'],
    ['hirajoshi', 'hirajoshi'],
    ['in-sen', 'in-sen'],
    ['in', 'kumoijoshi'],
    ['kumoi', 'kumoi'],
  ])('%s is what tonal calls %s', (id, name) => {
    expect(findShape(id)?.steps.join('')).toBe(
      steps(ScaleType.get(name).chroma)
        .flatMap((bit, at) => (bit === 1 ? [at] : []))
        .join(''),
    );
  });

  it.each([
    ['major-pentatonic', 'majorPentatonic'],
    ['suspended-pentatonic', 'suspendedPentatonic'],
    ['minor-pentatonic', 'minorPentatonic'],
    ['dominant-pentatonic', 'dominantPentatonic'],
    ['major-ninth', 'major9'],
    ['minor-ninth', 'minor9'],
  ] as const)('%s holds what musodojo lists as %s', (id, name) => {
    const listed = (noteCollections[name].integers as readonly number[]).map((each) => each % 12).sort((a, b) => a - b);
    expect(findShape(id)?.steps).toEqual(listed);
  });
});

/** Scale classes of section 8: 7-35 diatonic, 7-34 melodic minor, 7-32 harmonic minor (R), as semitones. */
const SEVEN_NOTES = { '7-35': '013568T', '7-34': '013468T', '7-32': '0134689' } as const;

describe('shapes inside scales', () => {
  it('the scale classes are what musicians call them (common practice)', () => {
    for (const [digits, spelled] of [
      [SEVEN_NOTES['7-35'], '1 2 3 4 5 6 7'],
      [SEVEN_NOTES['7-34'], '1 2 b3 4 5 6 7'],
      [SEVEN_NOTES['7-32'], '1 2 b3 4 5 b6 7'],
    ] as const) {
      const scale = setOfSteps(degrees(spelled).map(semitonesOf));
      expect(primeFormOf(scale)).toEqual(steps(digits));
    }
  });

  // The search works on masks; this tries every note of every shape at every thumb with plain numbers.
  it.each(Object.entries(SEVEN_NOTES))('every shape at twelve thumbs in %s equals brute force', (_name, digits) => {
    for (let root = 0; root < 12; root++) {
      const scale = steps(digits).map((each) => modulo(each + root, 12));
      const set = setOfSteps(scale);
      for (const shape of ALL_SHAPES) {
        const held = new Set<number>();
        const thumbs: number[] = [];
        for (let thumb = 0; thumb < 12; thumb++) {
          const notes = shape.steps.map((step) => (thumb + step) % 12);
          if (!notes.every((each) => scale.includes(each))) continue;
          thumbs.push(thumb);
          for (const each of notes) held.add(each);
        }
        expect(thumbsIn(shape, set)).toBe(setOfSteps(thumbs));
        expect(coverOf(shape, set)).toBe(setOfSteps([...held]));
      }
    }
  });

  it('minor pentatonics in C major: ii, vi, iii and no more (C; R for three in every Dorian)', () => {
    expect(thumbsOf(MINOR_PENTATONIC, notesOf('C', '1 2 3 4 5 6 7'))).toBe('D A E');
    expect(thumbsOf(MINOR_PENTATONIC, notesOf('D', '1 2 b3 4 5 6 b7'))).toBe('D A E');
  });

  it('in melodic minor only on 2, in harmonic minor none (C)', () => {
    expect(thumbsOf(MINOR_PENTATONIC, notesOf('C', '1 2 b3 4 5 6 7'))).toBe('D');
    expect(thumbsOf(MINOR_PENTATONIC, notesOf('C', '1 2 b3 4 5 b6 7'))).toBe('');
  });

  it('no five-note shape covers harmonic minor or harmonic major (common practice; exhaustive)', () => {
    for (const spelled of ['1 2 b3 4 5 b6 7', '1 2 3 4 5 b6 7']) {
      const scale = setOfSteps(degrees(spelled).map(semitonesOf));
      expect(ALL_SHAPES.filter((shape) => coverOf(shape, scale) === scale)).toEqual([]);
    }
  });

  // the modes of melodic minor over a minor ii–V–i: two positions of one class, a whole step apart
  it.each([
    ['F', '1 2 b3 4 b5 b6 b7'], // Locrian natural 2
    ['Bb', '1 b9 #9 3 #11 b13 b7'], // altered
    ['Eb', '1 2 b3 4 5 6 7'], // melodic minor
  ])('%s %s is covered by two minor-six pentatonics a whole step apart', (root, spelled) => {
    const family = familyIn(MINOR_SIX_PENTATONIC, notesOf(root, spelled));
    expect(family).toMatchObject({ complete: true, chainSemitones: 2 });
    expect(family.positions.map((each) => modulo(pitchClassOf(each.thumb), 12)).length).toBe(2);
  });
});
