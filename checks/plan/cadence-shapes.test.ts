/**
 * The shapes that come out for the cadences of the trade, against:
 * - common practice: over a major ii–V–I the minor pentatonics on the ii's root and the two fifths above it; over a minor
 *   ii–V–i the minor-six pentatonics, two for each chord, a whole step apart;
 * - docs/sources.md, 8 (C: computed there from read data): minor pentatonics inside C major exactly D, E, A;
 *   melodic minor only on 2; harmonic minor none; Forte's 5-35 and 5-34.
 */
import { describe, expect, it } from 'vitest';
import {
  coverOf,
  familyIn,
  formatNoteName,
  MINOR_PENTATONIC,
  noteName,
  notesOfScale,
  pitchClassOf,
  SCALE_KINDS,
  searchShapes,
  setOfNotes,
  SHAPE_CLASSES,
  shapeDemands,
  thumbsIn,
  type ShapeAnswer,
} from '@fivespan/core';
import { inventedAnalysis } from '../../packages/core/src/plan/invented-analysis.ts';

const best = (text: string, key: string): ShapeAnswer =>
  searchShapes(shapeDemands(inventedAnalysis(text, key)), { hand: 'medium', keys: 'all', limit: 1 })
    .answers[0] as ShapeAnswer;
const thumbs = (answer: ShapeAnswer): number[][] =>
  answer.chords.map(({ family }) => (family?.positions ?? []).map((each) => pitchClassOf(each.thumb)));

/** Twelve keys by independent spelling: the root of each chord, written by hand. */
const MAJOR_CADENCES: readonly (readonly [string, string, string, string])[] = [
  ['C major', 'Dm7', 'G7', 'Cmaj7'],
  ['F major', 'Gm7', 'C7', 'Fmaj7'],
  ['Bb major', 'Cm7', 'F7', 'Bbmaj7'],
  ['Eb major', 'Fm7', 'Bb7', 'Ebmaj7'],
  ['Ab major', 'Bbm7', 'Eb7', 'Abmaj7'],
  ['Db major', 'Ebm7', 'Ab7', 'Dbmaj7'],
  ['Gb major', 'Abm7', 'Db7', 'Gbmaj7'],
  ['B major', 'C#m7', 'F#7', 'Bmaj7'],
  ['E major', 'F#m7', 'B7', 'Emaj7'],
  ['A major', 'Bm7', 'E7', 'Amaj7'],
  ['D major', 'Em7', 'A7', 'Dmaj7'],
  ['G major', 'Am7', 'D7', 'Gmaj7'],
];

const MINOR_CADENCES: readonly (readonly [string, string, string, string])[] = [
  ['C minor', 'Dm7b5', 'G7alt', 'Cm6'],
  ['F minor', 'Gm7b5', 'C7alt', 'Fm6'],
  ['Bb minor', 'Cm7b5', 'F7alt', 'Bbm6'],
  ['Eb minor', 'Fm7b5', 'Bb7alt', 'Ebm6'],
  ['G# minor', 'A#m7b5', 'D#7alt', 'G#m6'],
  ['C# minor', 'D#m7b5', 'G#7alt', 'C#m6'],
  ['F# minor', 'G#m7b5', 'C#7alt', 'F#m6'],
  ['B minor', 'C#m7b5', 'F#7alt', 'Bm6'],
  ['E minor', 'F#m7b5', 'B7alt', 'Em6'],
  ['A minor', 'Bm7b5', 'E7alt', 'Am6'],
  ['D minor', 'Em7b5', 'A7alt', 'Dm6'],
  ['G minor', 'Am7b5', 'D7alt', 'Gm6'],
];

describe('major ii–V–I (common practice)', () => {
  it.each(MAJOR_CADENCES)(
    'in %s: the minor pentatonic, on the root of the ii and two fifths above',
    (key, ...chords) => {
      const answer = best(chords.join(' | '), key);
      expect(answer.shapes.map((each) => each.shapeClass.forte)).toEqual(['5-35']);
      expect(answer.shapes[0]?.shape.steps).toEqual([0, 3, 5, 7, 10]);
      const root = pitchClassOf(noteName(/^[A-G][b#]?/u.exec(chords[0])?.[0] ?? ''));
      const chain = [root, (root + 7) % 12, (root + 14) % 12];
      expect(thumbs(answer)).toEqual([chain, chain, chain]);
      expect(answer.chords.every((each) => each.complete)).toBe(true);
    },
  );
});

describe('minor ii–V–i (common practice)', () => {
  it.each(MINOR_CADENCES)('in %s: one class, two positions a whole step apart on each chord', (key, ...chords) => {
    const answer = best(chords.join(' | '), key);
    expect(answer.shapes.map((each) => each.shapeClass.forte)).toEqual(['5-34']);
    expect(answer.chords.map((each) => each.chordScale.name)).toEqual([
      'Locrian natural 2',
      'altered',
      'melodic minor',
    ]);
    for (const pair of thumbs(answer)) {
      expect(pair).toHaveLength(2);
      expect(((pair[1] as number) - (pair[0] as number) + 12) % 12).toBe(2);
    }
    expect(answer.chords.every((each) => each.complete)).toBe(true);
    // in other words: melodic minor of the i, of the ii's third, of the V's half step up
    const tonic = pitchClassOf(noteName(key.split(' ')[0] ?? ''));
    expect(thumbs(answer).map(([first]) => ((first as number) - tonic + 12) % 12)).toEqual([5, 8, 0]);
  });
});

describe('which pentatonics lie in which scale (reference, section 8: C)', () => {
  it.each([
    [SCALE_KINDS.ionian, 'D A E'],
    [SCALE_KINDS.melodicMinor, 'D'],
    [SCALE_KINDS.harmonicMinor, ''],
  ])('$name', (kind, expected) => {
    const family = familyIn(MINOR_PENTATONIC, notesOfScale({ kind, root: noteName('C') }));
    expect(family.positions.map((each) => formatNoteName(each.thumb)).join(' ')).toBe(expected);
  });

  it.each([SCALE_KINDS.harmonicMinor, SCALE_KINDS.harmonicMajor])('no five-note shape covers $name', (kind) => {
    const set = setOfNotes(notesOfScale({ kind, root: noteName('C') }));
    const covering = SHAPE_CLASSES.filter(({ rotations }) => coverOf(rotations[0], set) === set);
    expect(covering).toEqual([]);
    expect(SHAPE_CLASSES.some(({ rotations }) => thumbsIn(rotations[0], set) !== 0)).toBe(true);
  });
});
