import { describe, expect, it } from 'vitest';
import { degrees, formatNoteName, noteAbove, noteName, type NoteName } from '../theory/index.ts';
import { familyIn } from './family.ts';
import { ALL_SHAPES } from './shape-class.ts';
import { MINOR_PENTATONIC, MINOR_SIX_PENTATONIC } from './shapes.ts';
import type { Shape } from './shape.ts';

const scale = (root: string, spelled: string): NoteName[] =>
  degrees(spelled).map((each) => noteAbove(noteName(root), each));
const spelledThumbs = (shape: Shape, notes: readonly NoteName[]): string[] =>
  familyIn(shape, notes).positions.map((each) => formatNoteName(each.thumb));
const spelledNotes = (shape: Shape, notes: readonly NoteName[]): string[] =>
  familyIn(shape, notes).positions.map((each) => each.notes.map(formatNoteName).join(' '));

const MAJOR = '1 2 3 4 5 6 7';
const LYDIAN = '1 2 3 #4 5 6 7';
const MIXOLYDIAN = '1 2 3 4 5 6 b7';
const ALTERED = '1 b9 #9 3 #11 b13 b7';
const LOCRIAN_NATURAL_2 = '1 2 b3 4 b5 b6 b7';
const MELODIC_MINOR = '1 2 b3 4 5 6 7';
const HALF_WHOLE = '1 b9 #9 3 #11 5 13 b7';

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
    ['C', ALTERED, ['Db Fb Gb Ab Bb', 'Eb Gb Ab Bb C']],
    ['D', ALTERED, ['Eb Gb Ab Bb C', 'F Ab Bb C D']],
    // as functions would spell them: Cb Ebb Fb Gb Ab
    ['Bb', ALTERED, ['Cb D Fb Gb Ab', 'Db Fb Gb Ab Bb']],
    ['F', ALTERED, ['Gb A Cb Db Eb', 'Ab Cb Db Eb F']],
    ['G#', MELODIC_MINOR, ['G# B C# D# E#', 'A# C# D# E# F##']],
    ['C', MELODIC_MINOR, ['C Eb F G A', 'D F G A B']],
    ['F', LOCRIAN_NATURAL_2, ['Ab Cb Db Eb F', 'Bb Db Eb F G']],
    ['F#', ALTERED, ['G Bb C D E', 'A C D E F#']],
  ])('minor-six pentatonics in %s %s', (root, spelled, positions) => {
    const family = familyIn(MINOR_SIX_PENTATONIC, scale(root, spelled));
    expect(spelledNotes(MINOR_SIX_PENTATONIC, scale(root, spelled))).toEqual(positions);
    expect(family).toMatchObject({ chainSemitones: 2, complete: true });
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
    expect(spelledNotes(sharpNine, scale('B', HALF_WHOLE))).toContain('A C D# E# G#');
    expect(spelledNotes(sharpNine, scale('C', HALF_WHOLE))).toContain('Db E G A C');
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
