import { degree, type Degree } from '../theory/index.ts';
import type { Chart } from './chart.ts';
import { transposeChartBy } from './transpose-chart.ts';

/** What a transposing instrument is in. */
export type InstrumentKey = 'C' | 'Bb' | 'Eb' | 'F' | 'A' | 'G';

/** How far a part is written above concert pitch, octaves apart counted as one. Common practice. */
const WRITTEN_ABOVE_CONCERT: Readonly<Record<InstrumentKey, Degree>> = {
  C: degree('1'),
  Bb: degree('2'), // trumpet, tenor saxophone, clarinet
  Eb: degree('6'), // alto and baritone saxophone
  F: degree('5'), // horn
  A: degree('b3'), // clarinet in A
  G: degree('4'), // alto flute
};

/**
 * The chart as a player of a transposing instrument reads it.
 * @example formatKey(chartForInstrument(chart, 'Bb').key!) // → 'F major'
 */
export function chartForInstrument(chart: Chart, instrument: InstrumentKey): Chart {
  return transposeChartBy(chart, WRITTEN_ABOVE_CONCERT[instrument]);
}
