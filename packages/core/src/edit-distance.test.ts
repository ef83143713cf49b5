import fc from 'fast-check';
import { expect, test } from 'vitest';
import { editDistance, nearestOf } from './edit-distance.ts';

/** The definition, by recursion. */
function plainDistance(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length;
  const change = plainDistance(a.slice(1), b.slice(1)) + (a[0] === b[0] ? 0 : 1);
  return Math.min(change, plainDistance(a.slice(1), b) + 1, plainDistance(a, b.slice(1)) + 1);
}

test('equals its definition on short texts', () => {
  const short = fc.string({ unit: fc.constantFrom('m', 'a', '7'), maxLength: 5 });
  fc.assert(
    fc.property(short, short, (a, b) => {
      expect(editDistance(a, b)).toBe(plainDistance(a, b));
    }),
    { seed: 1 },
  );
});

test('the nearest is the first of the least distant', () => {
  expect(nearestOf('maj6', ['m', 'maj7', 'maj9'])).toBe('maj7');
  expect(nearestOf('tempi', ['title', 'tempo'])).toBe('tempo');
  expect(nearestOf('x', [])).toBeUndefined();
});
