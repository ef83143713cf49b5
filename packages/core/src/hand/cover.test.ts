import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  degrees,
  formatNoteName,
  noteAbove,
  noteName,
  parseKey,
  notesOfKey,
  pitchClassOf,
  setOfNotes,
  type NoteName,
  type PitchClassSet,
} from '../theory/index.ts';
import { familiesIn, fewestPositions, fewestToCover, holdsAll, notesHeld, nameOfPosition } from './cover.ts';
import { familyIn, maskOf, orderThumbs, thumbsIn } from './family.ts';
import { positionAt } from './position.ts';
import { ALL_SHAPES, findShape } from './shape-class.ts';
import { MINOR_PENTATONIC, MINOR_SIX_PENTATONIC } from './shapes.ts';
import type { Shape } from './shape.ts';

const scale = (root: string, spelled: string): NoteName[] =>
  degrees(spelled).map((each) => noteAbove(noteName(root), each));
const mask = (...classes: number[]) => classes.reduce((all, each) => all | (1 << each), 0) as PitchClassSet;
const SEED = { seed: 20262, numRuns: 200 };

describe('the fewest positions', () => {
  it('are as few as trying every choice finds', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 4095 }), { maxLength: 8 }),
        fc.integer({ min: 0, max: 4095 }),
        (parts, whole) => {
          let fewest = Number.POSITIVE_INFINITY;
          for (let choice = 0; choice < 2 ** parts.length; choice++) {
            const chosen = parts.filter((_, index) => (choice & (1 << index)) !== 0);
            const union = chosen.reduce((mask, each) => mask | each, 0);
            if ((whole & ~union) === 0) fewest = Math.min(fewest, chosen.length);
          }
          const found = fewestToCover(parts as PitchClassSet[], whole as PitchClassSet);
          expect(found?.length ?? Number.POSITIVE_INFINITY).toBe(fewest);
        },
      ),
      SEED,
    );
  });

  it('of a key are two of its three minor pentatonics: the outer ones (exhaustive)', () => {
    const family = familyIn(MINOR_PENTATONIC, notesOfKey(parseKey('F major')!));
    expect(fewestPositions(family)?.map((each) => formatNoteName(each.thumb))).toEqual(['G', 'A']);
  });

  it('are both minor-six pentatonics of melodic minor, and none of an incomplete family', () => {
    const melodic = scale('C', '1 2 b3 4 5 6 7');
    expect(fewestPositions(familyIn(MINOR_SIX_PENTATONIC, melodic))?.length).toBe(2);
    expect(fewestPositions(familyIn(MINOR_PENTATONIC, melodic))).toBeUndefined();
  });
});

describe('families of any set', () => {
  it('hold just the positions that lie inside, spelled note for note', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 11 }), { minLength: 5, maxLength: 9 }),
        fc.constantFrom(...ALL_SHAPES),
        (classes, shape) => {
          // a chord-scale of any notes, spelled somehow from its first
          const notes = classes.map((each) =>
            noteName(['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'][each]!),
          );
          const family = familyIn(shape, notes);
          const set = setOfNotes(notes);
          for (const position of family.positions) expect(position.set & ~set).toBe(0);
          // plain numbers against the search's masks
          const thumbs = Array.from({ length: 12 }, (_, each) => each).filter((thumb) =>
            shape.steps.every((step) => classes.includes((thumb + step) % 12)),
          );
          expect(family.positions.map((each) => pitchClassOf(each.thumb) as number).sort((x, y) => x - y)).toEqual(
            thumbs,
          );
          expect(thumbsIn(shape, set)).toBe(mask(...thumbs));
          const union = family.positions.reduce((mask, each) => mask | each.set, 0);
          expect(family.complete).toBe(union === set);
          if (family.chainSemitones !== null) {
            const order = family.positions.map((each) => pitchClassOf(each.thumb));
            for (const [index, each] of order.slice(1).entries()) {
              expect((each - order[index]! + 12) % 12).toBe(family.chainSemitones);
            }
          }
        },
      ),
      SEED,
    );
  });

  it('leave out shapes without a position', () => {
    const harmonicMinor = scale('C', '1 2 b3 4 5 b6 7');
    expect(familiesIn([MINOR_PENTATONIC, MINOR_SIX_PENTATONIC], harmonicMinor)).toEqual([]);
    expect(familiesIn(ALL_SHAPES, harmonicMinor).length).toBeGreaterThan(0);
  });

  it('order thumbs: fifths, a ring from its root, else ascending', () => {
    expect(orderThumbs(mask(2, 4, 9), pitchClassOf(noteName('C')))).toEqual({ thumbs: [2, 9, 4], chainSemitones: 7 });
    expect(orderThumbs(mask(1, 4, 7, 10), pitchClassOf(noteName('D')))).toEqual({
      thumbs: [4, 7, 10, 1],
      chainSemitones: 3,
    });
    expect(orderThumbs(mask(0, 1, 5), pitchClassOf(noteName('E')))).toEqual({
      thumbs: [5, 0, 1],
      chainSemitones: null,
    });
    expect(orderThumbs(mask(3), pitchClassOf(noteName('C')))).toEqual({ thumbs: [3], chainSemitones: null });
    expect(orderThumbs(mask(), pitchClassOf(noteName('C')))).toEqual({ thumbs: [], chainSemitones: null });
  });
});

describe('what a position holds', () => {
  const position = positionAt(MINOR_PENTATONIC, noteName('G')); // G Bb C D F
  it('is told of avoid notes and guide tones', () => {
    // common practice: over Fmaj7 the natural 4, Bb, is the avoid note
    expect(notesHeld(position, [noteName('Bb')]).map(formatNoteName)).toEqual(['Bb']);
    expect(notesHeld(position, [noteName('E')])).toEqual([]);
    expect(holdsAll(position, [noteName('Bb'), noteName('F')])).toBe(true); // guide tones of Gm7
    expect(holdsAll(position, [noteName('E'), noteName('Bb')])).toBe(false); // of C7
    expect(nameOfPosition(position)).toBe('G minor pentatonic');
  });

  it('is the mask of its shape at the thumb', () => {
    const shape = findShape('dominant-pentatonic') as Shape;
    expect(positionAt(shape, noteName('C')).set).toBe(maskOf(shape));
  });
});
