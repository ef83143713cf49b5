import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MINOR_PENTATONIC, MINOR_SIX_PENTATONIC } from '../hand/index.ts';
import { setOfKey, parseKey, type PitchClassSet } from '../theory/index.ts';
import { coveringWays, fewestPlaces, type WaysToMeet } from './fewest-positions.ts';

function byBruteForce(chords: readonly WaysToMeet[], places: number): number {
  let fewest = Number.POSITIVE_INFINITY;
  for (let set = 0; set < 1 << places; set++) {
    const isMet = chords.every((ways) => ways.some((way) => way.every((place) => (set & (1 << place)) !== 0)));
    if (isMet) fewest = Math.min(fewest, [...set.toString(2)].filter((bit) => bit === '1').length);
  }
  return fewest;
}

describe('the fewest positions', () => {
  it('are as few as brute force finds', () => {
    const way = fc.uniqueArray(fc.integer({ min: 0, max: 7 }), { minLength: 1, maxLength: 3 });
    const chords = fc.array(fc.array(way, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(chords, (given) => {
        const { places } = fewestPlaces(given);
        expect(places.length).toBe(byBruteForce(given, 8));
        const isMet = (ways: WaysToMeet): boolean => ways.some((each) => each.every((place) => places.includes(place)));
        expect(given.every(isMet)).toBe(true);
      }),
      { seed: 4, numRuns: 300 },
    );
  });

  it('cover F major by the minor pentatonics on G and A alone; D adds none of their notes', () => {
    const set = setOfKey(parseKey('F major')!);
    expect(coveringWays(MINOR_PENTATONIC, 0, set)).toEqual([[7, 9]]);
  });

  it('cover C melodic minor by both minor-six pentatonics', () => {
    const set = [0, 2, 3, 5, 7, 9, 11].reduce((mask, each) => mask | (1 << each), 0) as PitchClassSet;
    expect(coveringWays(MINOR_SIX_PENTATONIC, 1, set)).toEqual([[12, 14]]);
  });
});
