import { pitchClassOf } from '@fivespan/core';
import type { Moment } from '../playing/index.ts';
import type { Meant } from './steps.ts';

/**
 * Whether a key is what is to be played at a moment; null where nothing is.
 * @param isFree whether the hand is shown every thumb of the family: each of them is right then
 */
export function isMeantAt(
  { bar, bars, hand, families }: Pick<Moment, 'bar' | 'bars' | 'hand' | 'families'>,
  meant: Meant,
  key: number,
  isFree: boolean,
): boolean | null {
  if (meant === null) return null;
  const isInside = families.some(({ inside }) => (inside & (1 << (key % 12))) !== 0);
  // the bars come twice: thumbs alone, then whole positions
  if (meant === 'inside' || bar >= bars.length / 2) return isInside;
  if (hand === null) return null;
  const free = isFree ? families.flatMap(({ positions }) => positions) : [];
  return [hand.position, ...free].some(({ thumb }) => pitchClassOf(thumb) === key % 12);
}
