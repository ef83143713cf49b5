import { describe, expect, it } from 'vitest';
import { randomSource } from '../../random.ts';
import { drift } from './drift.ts';

const BOUNDS = { farthest: 15_000, push: 7000 };
const run = (seed: number, count = 4000): number[] => {
  const next = drift(randomSource(seed, 'drift'), BOUNDS);
  return Array.from({ length: count }, next);
};

/** Correlation of each value with the one so many places later. */
function correlation(values: readonly number[], lag: number): number {
  const mean = values.reduce((sum, each) => sum + each, 0) / values.length;
  const product = (gap: number): number =>
    values.slice(gap).reduce((sum, each, index) => sum + (each - mean) * ((values[index] as number) - mean), 0);
  return product(lag) / product(0);
}

describe('drift', () => {
  it('stays in whole numbers within its bounds, and uses most of them', () => {
    for (const seed of [1, 2, 3]) {
      const values = run(seed);
      for (const value of values) expect(Number.isInteger(value) && Math.abs(value) <= BOUNDS.farthest).toBe(true);
      expect(Math.max(...values)).toBeGreaterThan(BOUNDS.farthest * 0.8);
      expect(Math.min(...values)).toBeLessThan(-BOUNDS.farthest * 0.8);
    }
  });

  it('hangs together from note to note and forgets over a few: no white noise', () => {
    // a first-order autoregression of 0.7 has 0.7, 0.49, 0.7⁸ = 0.06; the bounds take a little off
    for (const seed of [1, 2, 3]) {
      const values = run(seed);
      expect(correlation(values, 1)).toBeGreaterThan(0.6);
      expect(correlation(values, 1)).toBeLessThan(0.8);
      expect(correlation(values, 2)).toBeGreaterThan(0.35);
      expect(Math.abs(correlation(values, 8))).toBeLessThan(0.2);
    }
  });

  it('leans neither way', () => {
    const values = run(5);
    expect(Math.abs(values.reduce((sum, each) => sum + each, 0) / values.length)).toBeLessThan(600);
  });
});
