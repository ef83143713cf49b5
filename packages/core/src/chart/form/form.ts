import type { Bar, Section, Slot } from '../chart.ts';
import { barTicksOf, beatTicksOf } from '../meter.ts';

/** A written bar at one of the times it is played. */
export interface PlayedBar {
  readonly bar: Bar;
  readonly section: Section;
  /** Counts the times through this written bar, from 1. */
  readonly pass: number;
  /** Place in the form, from 0; a pickup counts. */
  readonly index: number;
  /** From the first full bar; a pickup's are negative. */
  readonly startTicks: number;
}

/** A written slot at one of the times it is played. */
export interface PlayedSlot {
  readonly slot: Slot;
  readonly playedBar: PlayedBar;
  /** Place among the form's slots, from 0. */
  readonly index: number;
  /** From the first full bar. */
  readonly startTicks: number;
  readonly endTicks: number;
  /** Beat in its bar, from 1, as a number that may be fractional. */
  readonly beat: number;
  readonly beats: number;
}

/**
 * The played bar that sounds at a tick: the last one that has begun, the first where none has.
 * @throws RangeError where the form has no bars.
 */
export function playedBarAt({ bars }: Form, ticks: number): PlayedBar {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((bars[middle] as PlayedBar).startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  const bar = bars[low];
  if (bar === undefined) throw new RangeError('form must have at least one bar');
  return bar;
}

/** The beat of a played bar that a tick falls on, from 1, perhaps between two. A pickup's beats are the last ones of a bar. */
export function beatAt({ bar, startTicks }: PlayedBar, ticks: number): number {
  const skippedTicks = bar.number === 0 ? barTicksOf(bar.meter) - bar.durationTicks : 0;
  return (skippedTicks + ticks - startTicks) / beatTicksOf(bar.meter) + 1;
}

/** The chart with its repeats, endings and jumps played out. Every slot of `bars` is in `slots`, in time order, without gaps. */
export interface Form {
  readonly bars: readonly PlayedBar[];
  readonly slots: readonly PlayedSlot[];
  /** End of the last bar, from the first full bar. */
  readonly endTicks: number;
}
