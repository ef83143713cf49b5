import type { Issue } from '../issue/index.ts';
import type { Chart } from './chart.ts';
import { readChart } from './read-chart.ts';

/** A text as far as it can be read, with everything that is wrong with it. */
export interface ChartSoFar {
  /** Null where nothing can be read. Bars and slots have the ids they will have once the text is right. */
  readonly chart: Chart | null;
  /** Errors and warnings in the text's order. */
  readonly issues: readonly Issue[];
}

/**
 * Reads a chart while it is being written: what is wrong is told, the rest goes on working.
 * @example readAround('Fm7 | Bb7 | Ebmaj7').issues // → []
 */
export function readAround(text: string): ChartSoFar {
  const read = readChart(text);
  return read.ok ? { chart: read.value, issues: read.warnings } : { chart: null, issues: read.issues };
}
