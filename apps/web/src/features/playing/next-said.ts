import { isSamePlace, type HandPlace } from './form-view.ts';
import type { Moment } from './moment.ts';

/** What was last said of the hand to who does not see it: where it goes next, and in which bar that was said. */
export interface Said {
  /** Null where it stays to the end. */
  readonly hand: HandPlace | null;
  /** Whether it is the first place of all: said in the count-in. */
  readonly isFirst: boolean;
  readonly barId: string;
}

/**
 * What is to be said at a moment. Once for each next place, and never twice in a bar: who plays must be able to listen to the music.
 * @param before what it answered last; null at the start
 */
export function nextSaid(before: Said | null, { kind, chorus, bar, next }: Moment): Said | null {
  const isFirst = kind === 'count-in';
  // a count-in is one bar here: what comes is said as it begins
  const barId = `${kind} ${chorus} ${bar}`;
  const hand = next?.hand ?? null;
  if (kind === 'ending' || before?.barId === barId) return before;
  if (before !== null && before.isFirst === isFirst && isSamePlace(before.hand, hand)) return before;
  return { hand, isFirst, barId };
}
