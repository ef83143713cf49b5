/**
 * How a line grows from chorus to chorus. Common practice: a soloist begins with space and low down, and says more, higher and
 * nearer to the next chord, with every chorus. How much is our own. A chorus on paper is the first one, which has none of it.
 */

/** From here on it stays as it is. */
const FULLY_GROWN = 3;

/** How far the n-th chorus has grown, from 0 on: 0 … 3. */
export function growthOfLine(chorus: number): number {
  return Math.min(FULLY_GROWN, chorus);
}

/** By growth: one phrase in this many after the first, beside the peak, goes up an octave too. */
export const OTHERS_IN = [4, 3, 2, 2] as const;

/** Half quarters that the longest breath loses a chorus. */
export const GAP_LESS = 2;

/** Of a hundred pulses inside a phrase where a motive fits, how many more bring one, a chorus. */
export const INNER_MORE = 8;

/** What an anticipation costs less, a chorus. */
export const ANTICIPATION_LESS = 6;
