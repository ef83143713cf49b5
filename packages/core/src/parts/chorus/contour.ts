import type { RandomSource } from '../../random.ts';

/** Notes between two turns of a line, and how far up the hand it turns (finger 1 … 5). Our own. */
const SHORTEST_WAY = 3;
const LONGEST_WAY = 6;
const HIGH_TURNS = [4, 5, 5] as const;
const LOW_TURNS = [2, 1, 1] as const;
/** One turn in this many goes to the middle only. */
const SHALLOW_IN = 6;
const MIDDLE = 3;

/**
 * Where each note of a phrase would lie in the hand if the line just rose and fell: fingers in tenths, 10 … 50. High and
 * low turns come in turn, three to six notes apart, so that a phrase changes direction as a sung one does.
 */
export function contourOf(notes: number, random: RandomSource): number[] {
  const heights: number[] = [];
  let rises = random.integer(2) === 0;
  let from = (rises ? LOW_TURNS : HIGH_TURNS)[random.integer(3)] as number;
  while (heights.length < notes) {
    const way = SHORTEST_WAY + random.integer(LONGEST_WAY - SHORTEST_WAY + 1);
    const turn = (rises ? HIGH_TURNS : LOW_TURNS)[random.integer(3)] as number;
    const to = random.integer(SHALLOW_IN) === 0 ? MIDDLE : turn;
    for (let step = 0; step < way; step++) heights.push(Math.floor((10 * (from * (way - step) + to * step)) / way));
    [from, rises] = [to, !rises];
  }
  return heights.slice(0, notes);
}
