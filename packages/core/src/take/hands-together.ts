/** How well both hands keep together: strokes that are meant for the same beat. */
import { deviation, median, sureOf } from './figures.ts';
import type { HeardLine } from './heard-line.ts';
import type { Measured } from './take.ts';

/** Beats that both hands strike, from which anything is said. */
const FEWEST_BEATS = 12;

/** A stroke that has gone astray says nothing of the rest. */
const FURTHEST_MS = 120;

/**
 * How far the right hand's strokes stray from the left's on the beats that both strike, as a standard deviation in ms, and how far
 * behind it is on the whole; null where they share too few.
 */
export interface Together {
  readonly stray: Measured;
  readonly behindMs: number;
}

export function handsTogether(right: HeardLine, left: HeardLine): Together | null {
  const beats = new Map<number, number>();
  for (const { ticks, part, startSeconds } of left.notes)
    if (part === 'beat' && !beats.has(ticks)) beats.set(ticks, startSeconds);
  const apart: number[] = [];
  let last = Number.NaN;
  for (const { ticks, part, startSeconds } of right.notes) {
    const other = part === 'beat' && ticks !== last ? beats.get(ticks) : undefined;
    if (other === undefined) continue;
    last = ticks;
    apart.push((startSeconds - other) * 1000);
  }
  if (apart.length < FEWEST_BEATS) return null;
  const behindMs = median(apart);
  const near = apart.filter((each) => Math.abs(each - behindMs) <= FURTHEST_MS);
  const value = Math.round(deviation(near) * 10) / 10;
  return { stray: { value, sure: sureOf(Math.sqrt(near.length)) }, behindMs: Math.round(behindMs) };
}
