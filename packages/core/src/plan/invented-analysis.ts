import { analyse, NO_ANALYSIS_PINS, type Analysis } from '../analysis/index.ts';
import { readChart } from '../chart/index.ts';

/**
 * The analysis of changes of our own, for tests: `inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major')`.
 * @throws TypeError where the text is no chart.
 */
export function inventedAnalysis(bars: string, key: string, meter = '4/4'): Analysis {
  const chart = readChart(`key: ${key}\nmeter: ${meter}\n| ${bars} |\n`);
  if (!chart.ok) throw new TypeError(`bars must be changes: ${JSON.stringify(chart.issues)}`);
  return analyse(chart.value, NO_ANALYSIS_PINS);
}
