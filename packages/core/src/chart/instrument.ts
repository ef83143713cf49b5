import { degree, pitchClassOf, signatureOf, usualKey, type Degree, type Key, type NoteName } from '../theory/index.ts';
import type { Chart } from './chart.ts';
import { transposeChart, transposeChartBy } from './transpose-chart.ts';

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

/** A part in seven sharps or flats is written in the five of its other name. Common practice. */
const MOST_ACCIDENTALS = 6;

/**
 * The chart as a player of a transposing instrument reads it. A key that would have seven accidentals or more takes its
 * usual name.
 * @example formatKey(chartForInstrument(chart, 'Bb').key!) // → 'F major'
 */
export function chartForInstrument(chart: Chart, instrument: InstrumentKey): Chart {
  const interval = WRITTEN_ABOVE_CONCERT[instrument];
  if (chart.key === null) return transposeChartBy(chart, interval);
  const exact: Key = { ...chart.key, tonic: (chart.key.tonic + interval) as NoteName };
  const isReadable = Math.abs(signatureOf(exact)) <= MOST_ACCIDENTALS || instrument === 'C';
  return transposeChart(chart, isReadable ? exact : usualKey(pitchClassOf(exact.tonic), exact.mode));
}
