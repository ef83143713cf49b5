import fc from 'fast-check';
import { expect, test } from 'vitest';
import { matchSequences } from './sequence-match.ts';

/** Length of the longest common subsequence, by trying everything. */
function longest(before: readonly string[], after: readonly string[]): number {
  if (before.length === 0 || after.length === 0) return 0;
  const [a, ...restBefore] = before;
  const [b, ...restAfter] = after;
  if (a === b) return 1 + longest(restBefore, restAfter);
  return Math.max(longest(restBefore, after), longest(before, restAfter));
}

const sequence = fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { maxLength: 7 });

test('as many as brute force finds, equal and in order', () => {
  fc.assert(
    fc.property(sequence, sequence, (before, after) => {
      const matches = matchSequences(before, after);
      expect(matches).toHaveLength(after.length);
      const matched = matches.flatMap((at, index) => (at === null ? [] : [[at, index] as const]));
      for (const [at, index] of matched) expect(before[at]).toBe(after[index]);
      const places = matched.map(([at]) => at);
      expect(places).toEqual([...new Set(places)].toSorted((a, b) => a - b));
      expect(matched).toHaveLength(longest(before, after));
    }),
    { seed: 1, numRuns: 500 },
  );
});

test('long sequences that differ everywhere still find what is there once', () => {
  const before = Array.from({ length: 6000 }, (_, index) => (index % 3 === 0 ? `once ${index}` : 'often'));
  const after = before.map((each, index) => (index % 3 === 0 ? each : `new ${index}`));
  const matches = matchSequences(before, ['x', ...after, 'x']);
  expect(matches.filter((each) => each !== null)).toHaveLength(2000);
  expect(matches[1]).toBe(0);
});
