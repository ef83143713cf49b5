import { describe, expect, test } from 'vitest';
import { lessonOf, TWICE } from './invented-study.ts';
import { curvePoints } from './outside-curve.ts';

describe('the curve over the form', () => {
  test('has a point for each bar as it is played, with its number and section', () => {
    const points = curvePoints(lessonOf(TWICE), []);
    expect(points.map(({ fromBar }) => fromBar)).toEqual([1, 2, 1, 2, 3, 4, 5, 6]);
    expect(points.map(({ section }) => section).filter((name) => name !== null)).toEqual(['A', 'B']);
    expect(points.every(({ wish }) => wish === 0)).toBe(true); // level 1 stays inside
  });
  test('shows a curve in fewer stretches bar by bar', () => {
    expect(curvePoints(lessonOf(TWICE), [0, 3, 1, 0]).map(({ wish }) => wish)).toEqual([0, 0, 3, 3, 1, 1, 0, 0]);
  });
  test('takes bars together where the form has more than a curve has points', () => {
    const points = curvePoints(lessonOf(`key: C major\n${'| Dm7 | G7 '.repeat(50)}|`), []);
    expect(points).toHaveLength(50);
    expect(points.at(-1)).toMatchObject({ fromBar: 99, toBar: 100 });
  });
});
