import { describe, expect, it } from 'vitest';
import {
  asKept,
  degrees,
  formatNoteName,
  keptNames,
  noteAbove,
  noteName,
  readChordSymbol,
  simpleName,
  type Chord,
  type NoteName,
} from '../theory/index.ts';
import { familyIn } from './family.ts';
import { ALL_SHAPES } from './shape-class.ts';
import { MINOR_PENTATONIC, MINOR_SIX_PENTATONIC } from './shapes.ts';
import type { Shape } from './shape.ts';

const scale = (root: string, spelled: string): NoteName[] =>
  degrees(spelled).map((each) => noteAbove(noteName(root), each));
const spelledThumbs = (shape: Shape, notes: readonly NoteName[]): string[] =>
  familyIn(shape, notes).positions.map((each) => formatNoteName(each.thumb));
const spelledNotes = (shape: Shape, notes: readonly NoteName[], kept: readonly NoteName[] = []): string[] =>
  familyIn(shape, notes, kept).positions.map((each) => each.notes.map(formatNoteName).join(' '));

const MAJOR = '1 2 3 4 5 6 7';
const LYDIAN = '1 2 3 #4 5 6 7';
const MIXOLYDIAN = '1 2 3 4 5 6 b7';
/** As it is listed over a 7alt: docs/spelling.md, b. */
const ALTERED = '1 b9 b3 3 b5 b13 b7';
const LOCRIAN_NATURAL_2 = '1 2 b3 4 b5 b6 b7';
const MELODIC_MINOR = '1 2 b3 4 5 6 7';
/** As it is listed over a 7(b9). */
const HALF_WHOLE = '1 b9 b3 3 #11 5 13 b7';

describe('a family inside a chord-scale', () => {
  // common practice: ii, vi and iii of the key, by fifths
  it.each([
    ['F', MAJOR, 'G D A'],
    ['F', LYDIAN, 'D A E'],
    ['Gb', MIXOLYDIAN, 'Db Ab Eb'],
    ['B', MIXOLYDIAN, 'F# C# G#'],
    ['Gb', MAJOR, 'Ab Eb Bb'],
    ['F#', MAJOR, 'G# D# A#'],
  ])('minor pentatonics in %s %s have their thumbs on %s', (root, spelled, thumbs) => {
    const family = familyIn(MINOR_PENTATONIC, scale(root, spelled));
    expect(family.positions.map((each) => formatNoteName(each.thumb)).join(' ')).toBe(thumbs);
    expect(family).toMatchObject({ chainSemitones: 7, complete: true });
  });

  it.each([
    ['G#', MELODIC_MINOR, ['G# B C# D# E#', 'A# C# D# E# F##']],
    ['C', MELODIC_MINOR, ['C Eb F G A', 'D F G A B']],
    ['F', LOCRIAN_NATURAL_2, ['Ab Cb Db Eb F', 'Bb Db Eb F G']],
  ])('minor-six pentatonics in %s %s', (root, spelled, positions) => {
    const family = familyIn(MINOR_SIX_PENTATONIC, scale(root, spelled));
    expect(spelledNotes(MINOR_SIX_PENTATONIC, scale(root, spelled))).toEqual(positions);
    expect(family).toMatchObject({ chainSemitones: 2, complete: true });
  });

  // rules (a), (b) and (d): the chord's third is kept, the ♯9 is a minor third, the tritone a fifth, the rest follow the thumb
  it.each([
    ['C7alt', ['Db E Gb Ab Bb', 'Eb Gb Ab Bb C']],
    ['D7alt', ['Eb F# Ab Bb C', 'F Ab Bb C D']],
    ['G7alt', ['Ab B Db Eb F', 'Bb Db Eb F G']],
    ['Bb7alt', ['Cb D Fb Gb Ab', 'Db Fb Gb Ab Bb']],
    ['F7alt', ['Gb A Cb Db Eb', 'Ab Cb Db Eb F']],
    ['F#7alt', ['G A# C D E', 'A C D E F#']],
    ['C#7alt', ['D E# G A B', 'E G A B C#']],
    ['G#7alt', ['A B# D E F#', 'B D E F# G#']],
    ['Eb7alt', ['Fb G A Cb Db', 'Gb A Cb Db Eb']],
    ['Gb7alt', ['G Bb C D Fb', 'A C D Fb Gb']],
  ])('minor-six pentatonics over %s', (symbol, positions) => {
    const read = readChordSymbol(symbol);
    if (!read.ok || read.value.kind !== 'chord') throw new TypeError('symbol must be a chord');
    const kept = keptNames(read.value, { tonic: read.value.root, mode: 'minor' }, 'fifth');
    const notes = degrees(ALTERED).map((each) => asKept(simpleName((read.value as Chord).root + each), kept));
    expect(spelledNotes(MINOR_SIX_PENTATONIC, notes, kept)).toEqual(positions);
    expect(familyIn(MINOR_SIX_PENTATONIC, notes, kept)).toMatchObject({ chainSemitones: 2, complete: true });
  });

  it('closes a ring and starts it at the root', () => {
    const shape: Shape = {
      id: '0-3-4-7-10',
      name: '0 3 4 7 10',
      steps: [0, 3, 4, 7, 10],
      degrees: degrees('1 #9 3 5 b7') as unknown as Shape['degrees'],
    };
    const family = familyIn(shape, scale('C', HALF_WHOLE));
    // the scale writes F#; on D# its third would be a second D, so that position is written from Eb
    expect(spelledThumbs(shape, scale('C', HALF_WHOLE))).toEqual(['C', 'Eb', 'F#', 'A']);
    expect(family).toMatchObject({ chainSemitones: 3, complete: true });
  });

  it('is written as the scale of eight notes has it, so that a chord keeps its third and its flat nine', () => {
    // B7(b9) has D#, C7(b9) has Db: chord symbols as written
    const sharpNine = ALL_SHAPES.find((each) => each.steps.join(' ') === '0 3 6 8 11') as Shape;
    const overB = ['B', 'D#', 'F#', 'A', 'D', 'E#'].map(noteName);
    expect(spelledNotes(sharpNine, scale('B', HALF_WHOLE), overB)).toContain('A C D# E# G#');
    const overC = ['C', 'E', 'G', 'Bb', 'Eb', 'F#'].map(noteName);
    expect(spelledNotes(sharpNine, scale('C', HALF_WHOLE), overC)).toContain('Db E G A C');
  });

  it('of one position is no chain, and may be none', () => {
    // docs/sources.md, 8 (C): melodic minor only on 2; harmonic minor none
    const one = familyIn(MINOR_PENTATONIC, scale('C', MELODIC_MINOR));
    expect(one.positions.map((each) => formatNoteName(each.thumb))).toEqual(['D']);
    expect(one).toMatchObject({ chainSemitones: null, complete: false });
    expect(familyIn(MINOR_PENTATONIC, scale('C', '1 2 b3 4 5 b6 7')).positions).toEqual([]);
  });
});

it('a shape without a trade name is spelled as the chord-scale is', () => {
  const shape = ALL_SHAPES.find((each) => each.steps.join(' ') === '0 3 4 6 9') as Shape;
  expect(spelledNotes(shape, scale('C', '1 b2 3 4 5 b6 b7'))).toContain('E G Ab Bb Db');
});
