/** A source of random numbers; the same seed and name give the same numbers on every machine. */
export interface RandomSource {
  /** An integer from 0 to `below` − 1. */
  integer(below: number): number;
  /** An index drawn with these integer weights; all zero is a programmer's mistake. */
  weighted(weights: readonly number[]): number;
}

/** FNV-1a over UTF-16 units. Source: Fowler, Noll, Vo; IETF draft-eastlake-fnv (from memory). */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index++) hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  return hash >>> 0;
}

/**
 * A random source of its own for each part: `randomSource(seed, 'chorus')`. Adding draws in one part never changes another.
 * Integer arithmetic only (Mulberry32, Tommy Ettinger, public domain; from memory).
 * @throws RangeError where the seed is no integer from 0 to 2³² − 1.
 */
export function randomSource(seed: number, name: string): RandomSource {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff) {
    throw new RangeError(`seed must be an integer from 0 to 4294967295, not ${seed}`);
  }
  let state = (seed ^ hashOf(name)) >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (mixed ^ (mixed >>> 14)) >>> 0;
  };
  const integer = (below: number): number => {
    if (!Number.isInteger(below) || below < 1) throw new RangeError(`below must be a positive integer, not ${below}`);
    return Number((BigInt(next()) * BigInt(below)) >> 32n);
  };
  const weighted = (weights: readonly number[]): number => {
    const total = weights.reduce((sum, each) => sum + each, 0);
    let rest = integer(total);
    for (const [index, weight] of weights.entries()) {
      rest -= weight;
      if (rest < 0) return index;
    }
    throw new RangeError('weights must be non-negative integers');
  };
  return { integer, weighted };
}
