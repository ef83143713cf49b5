import { describe, expect, it } from 'vitest';
import { midi, noteName, pitchClass } from '../theory/index.ts';
import { positionAt } from './position.ts';
import { reachOf, shapesInReach, stretchesOf, stretchMm, thumbsInReach } from './reach.ts';
import { ALL_SHAPES, findShape } from './shape-class.ts';
import { MINOR_PENTATONIC, MINOR_SIX_PENTATONIC } from './shapes.ts';
import type { Shape } from './shape.ts';

const VERDICTS = ['easy', 'near the limit', 'out of reach'];

describe('reach', () => {
  it('is measured between the middles of the keys', () => {
    // C to Bb: 132.5 mm; D to C: 140.5 mm (layout table of docs/sources.md, 1)
    expect(stretchMm(positionAt(MINOR_PENTATONIC, noteName('C')))).toBe(132.5);
    expect(stretchMm(positionAt(MINOR_PENTATONIC, noteName('D')))).toBe(140.5);
    expect(stretchesOf(MINOR_PENTATONIC, midi(60)).length).toBe(10);
    expect(stretchesOf(MINOR_PENTATONIC, midi(60))[0]).toEqual({ lower: 1, higher: 2, distanceMm: 37.5 });
  });

  it('lets the two usual shapes lie well under a medium and a large hand, within reach of a small one, at every thumb', () => {
    for (const shape of [MINOR_PENTATONIC, MINOR_SIX_PENTATONIC]) {
      for (let thumb = 0; thumb < 12; thumb++) {
        for (const hand of ['medium', 'large'] as const) {
          expect(reachOf(shape, pitchClass(thumb), hand)).toMatchObject({ verdict: 'easy', because: [] });
        }
        expect(reachOf(shape, pitchClass(thumb), 'small').verdict).not.toBe('out of reach');
      }
    }
  });

  it('grows with the hand: what a smaller one can, a larger one can', () => {
    const hands = [{ spanMm: 150 }, { spanMm: 170 }, 'small', 'medium', 'large'] as const;
    for (const shape of ALL_SHAPES) {
      for (let thumb = 0; thumb < 12; thumb++) {
        const verdicts = hands.map((hand) => VERDICTS.indexOf(reachOf(shape, pitchClass(thumb), hand).verdict));
        expect(verdicts).toEqual([...verdicts].sort((a, b) => b - a));
      }
    }
  });

  it('rules shapes out for a small hand that a medium one can play', () => {
    const small = shapesInReach(ALL_SHAPES, 'small').map((shape) => shape.id);
    const medium = shapesInReach(ALL_SHAPES, 'medium').map((shape) => shape.id);
    expect(medium).toEqual(expect.arrayContaining(small));
    expect(medium.length).toBeGreaterThan(small.length);
    expect(small).not.toContain('in-sen');
    expect(medium).toContain('in-sen');
  });

  it('warns near the limit and says which fingers', () => {
    const { verdict, because } = reachOf(findShape('dominant-pentatonic') as Shape, pitchClass(0), 'medium');
    expect(verdict).toBe('near the limit');
    expect(because).toEqual([{ lower: 3, higher: 4, distanceMm: 47 }]); // E to G
  });

  it('of a measured span ends five millimetres short of it and is free up to an octave at 216 mm', () => {
    const wide = findShape('0-4-5-7-11') as Shape;
    expect(reachOf(wide, pitchClass(0), { spanMm: 145 }).verdict).toBe('out of reach'); // 140.5 mm > 140
    expect(reachOf(MINOR_PENTATONIC, pitchClass(2), { spanMm: 216 }).verdict).toBe('easy'); // 140.5 ≤ 164
    expect(reachOf(MINOR_PENTATONIC, pitchClass(2), { spanMm: 190 }).verdict).toBe('near the limit'); // 140.5 > 138
    expect(() => reachOf(wide, pitchClass(0), { spanMm: 21.6 })).toThrow(RangeError);
  });

  it('tells the thumbs a hand can use as a mask', () => {
    expect(thumbsInReach(MINOR_PENTATONIC, 'small')).toBe(0xfff);
    expect(thumbsInReach(findShape('0-8-9-10-11') as Shape, 'large')).toBeGreaterThan(0);
    expect(thumbsInReach(findShape('0-1-2-3-11') as Shape, 'large')).toBe(0);
  });
});
