import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coversOfSize } from './class-cover.ts';

/** All sets of this size that hold one candidate of every row and of which none can be left out, by trying every set. */
function byBruteForce(rows: readonly bigint[], size: number, candidates: number): string[] {
  const found: string[] = [];
  for (let set = 0; set < 1 << candidates; set++) {
    const members = Array.from({ length: candidates }, (_, index) => index).filter(
      (index) => (set & (1 << index)) !== 0,
    );
    if (members.length !== size) continue;
    const covers = (mask: number): boolean => rows.every((row) => (row & BigInt(mask)) !== 0n);
    if (covers(set)) found.push(members.join(' '));
  }
  return found.sort();
}

describe('covers of one size', () => {
  it('are, at the smallest size that has any, exactly those that brute force finds', () => {
    const rows = fc.array(fc.bigInt({ min: 1n, max: 255n }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(rows, (given) => {
        for (let size = 1; size <= 8; size++) {
          const { covers } = coversOfSize(given, size);
          const brute = byBruteForce(given, size, 8);
          expect(covers.map((each) => each.join(' ')).sort()).toEqual(brute);
          if (brute.length > 0) return;
        }
      }),
      { seed: 4, numRuns: 300 },
    );
  });

  it('counts what it looked at', () => {
    expect(coversOfSize([0b01n, 0b10n], 1)).toEqual({ size: 1, nodes: 1, pruned: 1, covers: [] });
    expect(coversOfSize([0b01n, 0b10n], 2).covers).toEqual([[0, 1]]);
  });
});
