import type { Bar } from '../chart.ts';

/** A stretch that is played more than once: indices of its first and last bar, its endings included. */
export interface Repeat {
  readonly first: number;
  readonly last: number;
  readonly times: number;
}

/** The repeats of a chart's bars in order; none overlaps another. */
export function repeatsOf(bars: readonly Bar[]): Repeat[] {
  const repeats: Repeat[] = [];
  let first: number | null = null;
  let last = 0;
  let times = 0;
  const finish = (): void => {
    if (first !== null && times > 0) repeats.push({ first, last, times });
    first = null;
    times = 0;
  };
  for (const [index, bar] of bars.entries()) {
    if (bar.startsRepeat) {
      finish();
      first = index;
    }
    // past the first `:|` only further endings still belong to the repeat
    if (first !== null && times > 0 && bar.endings.length === 0) finish();
    if (first === null) continue;
    last = index;
    times = Math.max(times, bar.endsRepeatTimes);
  }
  finish();
  return repeats;
}
