import { severityOf, type Result } from '../issue/index.ts';
import type { Chart } from './chart.ts';
import { readAround } from './read-around.ts';

export { LONGEST_CHART_CHARACTERS, MOST_CHART_BARS, MOST_REPEAT_TIMES } from './chart-reading.ts';

/**
 * Reads a chart's text (docs/chart.md). All that is wrong with it is reported at once, with line, column and bar; a
 * chart that is read can be unfolded. Any text gives a chart or issues, never an exception. Time grows with its length.
 * Ids are b1, b2 … for bars, b1.1, b1.2 … for slots, in the order of the text; keepIds carries those of an earlier
 * reading over.
 * @example readChart('Fm7 | Bb7 | Ebmaj7')
 */
export function readChart(text: string): Result<Chart> {
  const { chart, issues } = readAround(text);
  const isWrong = chart === null || issues.some((issue) => severityOf(issue) === 'error');
  return isWrong ? { ok: false, issues } : { ok: true, value: chart, warnings: issues };
}
