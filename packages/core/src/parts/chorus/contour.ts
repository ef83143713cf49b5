import type { RandomSource } from '../../random.ts';

/** Notes between two turns of the wished contour, at least and at most. Our own. */
const SHORTEST_ARC = 4;
const LONGEST_ARC = 9;

/**
 * A wished pitch for each note of a phrase: a line through turning points that lie now high, now low in what the hand has,
 * so that a phrase has a direction and changes it.
 * @param lows lowest note under the hand at each onset, MIDI
 * @param highs highest
 */
export function contourOf(lows: readonly number[], highs: readonly number[], random: RandomSource): number[] {
  const wished: number[] = [];
  let high = random.integer(2) === 1;
  let from = random.integer(101);
  while (wished.length < lows.length) {
    const notes = SHORTEST_ARC + random.integer(LONGEST_ARC - SHORTEST_ARC + 1);
    const goal = high ? 70 + random.integer(31) : random.integer(31);
    for (let step = 1; step <= notes && wished.length < lows.length; step++) {
      const percent = from + Math.trunc(((goal - from) * step) / notes);
      const at = wished.length;
      const [low, top] = [lows[at] as number, highs[at] as number];
      wished.push(low + Math.trunc(((top - low) * percent) / 100));
    }
    from = goal;
    high = !high;
  }
  return wished;
}
