import { describe, expect, it } from 'vitest';
import { classOfShape, coverOf, findShape, SHAPE_CLASSES } from '../hand/index.ts';
import { inventedAnalysis } from './invented-analysis.ts';
import { shapeDemands } from './shape-demand.ts';
import { searchShapes, type ShapeSearchOptions } from './shape-search.ts';
import { leapsOf } from './shape-order.ts';

const USUAL: ShapeSearchOptions = { hand: 'medium', keys: 'all', limit: 100 };
const answersTo = (text: string, key: string, options = USUAL) =>
  searchShapes(shapeDemands(inventedAnalysis(text, key)), options);

describe('the shape search', () => {
  it.each([
    ['Gm7 | C7 | Fmaj7', 'F major'],
    ['Fm7b5 | Bb7alt | Ebm6', 'Eb minor'],
    ['Dm7 | G7alt | Cmaj7', 'C major'],
    ['F#dim7', 'F major'],
  ])('finds over %s exactly the sets of classes that trying them all finds', (text, key) => {
    const demands = shapeDemands(inventedAnalysis(text, key));
    const sets = demands.map((each) => each.chordScales[0]!.set);
    const covers = (forte: string, set: (typeof sets)[number]): boolean => {
      const [shape] = SHAPE_CLASSES.find((each) => each.forte === forte)!.rotations;
      return coverOf(shape, set) === set;
    };
    const names = SHAPE_CLASSES.map((each) => each.forte);
    const ones = names.filter((each) => sets.every((set) => covers(each, set)));
    const pairs = names.flatMap((a, index) =>
      names
        .slice(index + 1)
        .flatMap((b) => (sets.every((set) => covers(a, set) || covers(b, set)) ? [`${a} ${b}`] : [])),
    );
    const brute = ones.length > 0 ? ones : pairs;
    expect(brute.length).toBeGreaterThan(0);
    const { answers, searched } = searchShapes(demands, USUAL);
    const found = answers.map(({ shapes }) => shapes.map(({ shapeClass }) => shapeClass));
    const inOrder = found.map((classes) =>
      classes
        .toSorted((a, b) => SHAPE_CLASSES.indexOf(a) - SHAPE_CLASSES.indexOf(b))
        .map((each) => each.forte)
        .join(' '),
    );
    expect(inOrder.toSorted()).toEqual(brute.toSorted());
    expect(searched.sizes.at(-1)?.covers).toBe(brute.length);
  });

  it('orders answers by half steps, leaps, positions, kindness', () => {
    const { answers } = answersTo('Gm7 | C7 | Fmaj7', 'F major');
    const keys = answers.map(({ shapes, positions, kindness }) => [
      Number(shapes[0]!.shapeClass.hasHalfStep),
      -leapsOf(shapes[0]!.shapeClass),
      positions,
      kindness.nearLimit,
    ]);
    const padded = keys.map((each) => each.map((value) => String(value + 100).padStart(4, '0')).join());
    expect(padded).toEqual(padded.toSorted());
  });

  it('says that a chord-scale is served, not covered, where no five-note shape covers it', () => {
    const analysis = inventedAnalysis('Fm7b5 | Bb7 | Ebm6', 'Eb minor');
    const { answers, searched } = searchShapes(shapeDemands(analysis), USUAL);
    expect(analysis.slots[1]!.chordScales[0]!.scale.kind.family).toBe('harmonic minor');
    for (const { chords, shapes } of answers) {
      expect(chords.map((each) => each.complete)).toEqual([true, false, true]);
      expect(chords[1]!.guideToneThumbs).not.toBe(0);
      expect(shapes).toHaveLength(2);
    }
    expect(searched.sizes.map(({ size, covers }) => [size, covers > 0])).toEqual([
      [1, false],
      [2, true],
    ]);
  });

  it('gives a narrow hand other shapes, within its reach', () => {
    const [usual] = answersTo('Gm7 | C7 | Fmaj7', 'F major').answers;
    const [narrow] = answersTo('Gm7 | C7 | Fmaj7', 'F major', { ...USUAL, hand: { spanMm: 150 } }).answers;
    expect(narrow!.shapes[0]!.shape).not.toEqual(usual!.shapes[0]!.shape);
    expect(narrow!.kindness.outOfReach).toBe(0);
  });

  it('chooses the thumbs for one key on request', () => {
    const options: ShapeSearchOptions = { ...USUAL, keys: 'this' };
    const inAll = answersTo('Ebm7 | Ab7 | Dbmaj7', 'Db major').answers[0]!;
    const inThis = answersTo('Ebm7 | Ab7 | Dbmaj7', 'Db major', options).answers[0]!;
    expect(inAll.shapes[0]!.shape).toBe(findShape('minor-pentatonic'));
    expect(classOfShape(inThis.shapes[0]!.shape)).toBe(classOfShape(inAll.shapes[0]!.shape));
    expect(inThis.kindness.blackThumbs).toBeLessThanOrEqual(2);
  });

  it('has no answer where nobody plays a chord', () => {
    expect(answersTo('N.C.', 'C major').answers).toEqual([]);
  });
});
