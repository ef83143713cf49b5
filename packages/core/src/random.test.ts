import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { randomSource } from './random.ts';

const draw = (seed: number, name: string, count = 50): number[] => {
  const source = randomSource(seed, name);
  return Array.from({ length: count }, () => source.integer(1000));
};

describe('random sources', () => {
  test('the same seed and name give the same numbers; another of either gives others', () => {
    expect(draw(7, 'chorus')).toEqual(draw(7, 'chorus'));
    expect(draw(7, 'chorus')).not.toEqual(draw(8, 'chorus'));
    expect(draw(7, 'chorus')).not.toEqual(draw(7, 'bass'));
  });

  test('integers lie below the bound, and each value comes about as often', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 0xffffffff }), fc.integer({ min: 1, max: 1_000_000 }), (seed, below) => {
        const value = randomSource(seed, 'law').integer(below);
        expect(Number.isInteger(value) && value >= 0 && value < below).toBe(true);
      }),
      { seed: 1 },
    );
    const source = randomSource(1, 'count');
    const counts = [0, 0, 0, 0, 0, 0];
    for (let draws = 0; draws < 6000; draws++) {
      const value = source.integer(6);
      counts[value] = (counts[value] as number) + 1;
    }
    // 1000 each expected, standard deviation 29: five of them allowed
    for (const count of counts) expect(Math.abs(count - 1000)).toBeLessThan(145);
  });

  test('weights: nothing that weighs nothing is drawn, the rest by its weight', () => {
    const source = randomSource(3, 'weights');
    const counts = [0, 0, 0];
    for (let draws = 0; draws < 4000; draws++) {
      const index = source.weighted([1, 0, 3]);
      counts[index] = (counts[index] as number) + 1;
    }
    expect(counts[1]).toBe(0);
    // 3000 expected, standard deviation 27
    expect(Math.abs((counts[2] as number) - 3000)).toBeLessThan(137);
  });

  test("a programmer's mistake throws", () => {
    expect(() => randomSource(-1, 'x')).toThrow(RangeError);
    expect(() => randomSource(1.5, 'x')).toThrow(RangeError);
    expect(() => randomSource(2 ** 32, 'x')).toThrow(RangeError);
    expect(() => randomSource(1, 'x').integer(0)).toThrow(RangeError);
    expect(() => randomSource(1, 'x').weighted([0, 0])).toThrow(RangeError);
  });
});
