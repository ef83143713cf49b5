import type { FormBar } from '../../features/playing/index.ts';
import { words } from '../words/index.ts';

/** A bar as the chart and the pages count it, and which time it is played where it is played several times. */
export function barName({ number, pass, passes }: FormBar): string {
  return words.play.barName(number, passes > 1 ? pass : null);
}

/** The number of the chart's last bar. */
export function lastNumber(bars: readonly FormBar[]): number {
  return Math.max(...bars.map(({ number }) => number));
}
