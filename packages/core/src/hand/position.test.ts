import { describe, expect, it } from 'vitest';
import {
  accidentalsOf,
  degrees,
  formatNoteName,
  letterOf,
  midi,
  noteAbove,
  noteName,
  notesOfKey,
  pitchClass,
  pitchClassOf,
  spellingsOf,
  usualKeys,
} from '../theory/index.ts';
import { familyIn } from './family.ts';
import { keysOf, positionAt, thumbKeysOn } from './position.ts';
import { MINOR_PENTATONIC, NAMED_SHAPES, USUAL_SHAPES } from './shapes.ts';

const G = positionAt(MINOR_PENTATONIC, noteName('G'));

describe('a position', () => {
  it('is spelled from its thumb, finger by finger', () => {
    expect(G.notes.map(formatNoteName)).toEqual(['G', 'Bb', 'C', 'D', 'F']);
    expect(positionAt(MINOR_PENTATONIC, noteName('G#')).notes.map(formatNoteName)).toEqual([
      'G#',
      'B',
      'C#',
      'D#',
      'F#',
    ]);
  });

  it('lies on keys', () => {
    expect(keysOf(G, midi(67))).toEqual([67, 70, 72, 74, 77]);
    expect(() => keysOf(G, midi(68))).toThrow(RangeError);
    expect(thumbKeysOn(G, { lowest: midi(36), highest: midi(84) })).toEqual([43, 55, 67]); // on 79 the little finger would need F6
    expect(thumbKeysOn(G, { lowest: midi(67), highest: midi(77) })).toEqual([67]);
    expect(thumbKeysOn(G, { lowest: midi(67), highest: midi(76) })).toEqual([]);
  });

  it('of a named shape is written without double accidentals on some spelling of every thumb', () => {
    // #9 beside 3 needs one on some thumbs: E, F##, G#
    const plain = NAMED_SHAPES.filter((shape) => shape.degrees.every((each) => Math.abs(each) <= 6));
    expect(plain.length).toBeGreaterThan(20);
    for (const shape of plain) {
      for (let thumb = 0; thumb < 12; thumb++) {
        const written = spellingsOf(pitchClass(thumb), 1).map((each) =>
          positionAt(shape, each).notes.map(accidentalsOf),
        );
        expect(written.some((accidentals) => accidentals.every((each) => Math.abs(each) <= 1))).toBe(true);
      }
    }
  });
});

describe('families in all keys', () => {
  // common practice: on the ii, the vi and the iii, by fifths, together the key; spelled as the key is
  it.each(usualKeys('major').map((key) => [formatNoteName(key.tonic), key] as const))('%s major', (_name, key) => {
    const notes = notesOfKey(key);
    const family = familyIn(MINOR_PENTATONIC, notes);
    expect(family.positions.map((each) => each.thumb)).toEqual(
      degrees('2 6 3').map((each) => noteAbove(key.tonic, each)),
    );
    expect(new Set(family.positions.flatMap((each) => each.notes))).toEqual(new Set(notes));
  });

  /** Contents: docs/sources.md, 6; spelled by function. */
  const SCALES = [
    '1 2 3 4 5 6 7',
    '1 2 b3 4 5 6 b7',
    '1 2 3 #4 5 6 7',
    '1 2 3 4 5 6 b7',
    '1 2 3 #4 5 6 b7',
    '1 b9 b3 b4 b5 b13 b7',
    '1 2 b3 4 b5 b6 b7',
    '1 2 b3 4 5 6 7',
    '1 b9 #9 3 #11 5 13 b7',
  ];

  it.each(SCALES)(
    '%s on every root a chart writes: no double accidental that the scale has not, each letter once',
    (spelled) => {
      for (const root of ['C', 'C#', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'].map(noteName)) {
        const notes = degrees(spelled).map((each) => noteAbove(root, each));
        const classes = new Set(notes.map(pitchClassOf));
        for (const shape of USUAL_SHAPES) {
          for (const position of familyIn(shape, notes).positions) {
            const readsWell = position.notes.every(
              (note) => Math.abs(accidentalsOf(note)) <= 1 || notes.includes(note),
            );
            expect(readsWell, `${formatNoteName(root)} ${position.notes.map(formatNoteName).join(' ')}`).toBe(true);
            expect(position.notes.every((note) => classes.has(pitchClassOf(note)))).toBe(true);
            expect(new Set(position.notes.map(letterOf)).size).toBe(5);
          }
        }
      }
    },
  );
});
