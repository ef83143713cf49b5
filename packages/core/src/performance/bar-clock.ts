import { isCompound, TICKS_PER_QUARTER, type Meter } from '../chart/index.ts';
import { swung, type Swing } from './swing.ts';

/** What a clock must know of a bar. */
export interface ClockBar {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly meter: Meter;
}

/** Turns ticks into seconds after tick 0 with one player's feel. */
export type Clock = (ticks: number) => number;

/**
 * Whether a bar's eighths swing in pairs: whole quarters, and no metre that counts eighths itself. So nothing swings in
 * 6/8, 12/8 or 7/8. Common practice.
 */
function swings({ meter, durationTicks }: ClockBar): boolean {
  return !isCompound(meter) && meter.unit <= 4 && durationTicks % TICKS_PER_QUARTER === 0;
}

/** The bar a tick is in; the first or last one outside the form, undefined where there are no bars. Bars ascend. */
export function barAt<Bar extends ClockBar>(bars: readonly Bar[], ticks: number): Bar | undefined {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((bars[middle] as Bar).startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return bars[low];
}

/** Where the notes of an eighth-note triplet begin in their beat. */
const TRIPLET_TICKS = [TICKS_PER_QUARTER / 3, (TICKS_PER_QUARTER * 2) / 3];

/**
 * A clock in one player's swing: triplets are even at any ratio (common practice); beats late by the delay, off-beat eighths by the ratio; straight and on the beat where a bar
 * does not swing.
 */
export function clockIn(bars: readonly ClockBar[], tickSeconds: number, swing: Swing): Clock {
  return (ticks) => {
    const bar = barAt(bars, ticks);
    if (bar === undefined || !swings(bar)) return ticks * tickSeconds;
    const inBar = ticks - bar.startTicks;
    const beat = Math.floor(inBar / TICKS_PER_QUARTER);
    const share = inBar / TICKS_PER_QUARTER - beat;
    const isTriplet = TRIPLET_TICKS.includes(inBar - beat * TICKS_PER_QUARTER);
    const place = isTriplet ? share : swung(share, swing.ratio);
    const played = bar.startTicks + (beat + place) * TICKS_PER_QUARTER;
    return played * tickSeconds + swing.delaySeconds;
  };
}
