import { signatureOf, transposeChord, usualKey, pitchClass, type Degree, type Key } from '../theory/index.ts';
import type { Bar, Chart } from './chart.ts';

/** A key signature holds seven accidentals at most. */
const MOST_ACCIDENTALS = 7;

/** A key on a tonic of the line of fifths; where it could not be written, the usual key that sounds the same. */
function writableKey(tonicFifths: number, mode: Key['mode']): Key {
  const key = { tonic: tonicFifths, mode } as Key;
  return Math.abs(signatureOf(key)) <= MOST_ACCIDENTALS ? key : usualKey(pitchClass(tonicFifths * 7), mode);
}

function transposeBar(bar: Bar, interval: Degree, keyChange: Key | null): Bar {
  return {
    ...bar,
    keyChange,
    slots: bar.slots.map((slot) => ({ ...slot, chord: transposeChord(slot.chord, interval) })),
  };
}

/** Moves all of a chart by an interval; where a key signature of its course could not be written, that stretch moves to the other spelling. */
function moveChart(chart: Chart, interval: Degree, toKey: Key | null): Chart {
  let current = interval;
  const sections = chart.sections.map((section) => ({
    ...section,
    bars: section.bars.map((bar) => {
      if (bar.keyChange === null) return transposeBar(bar, current, null);
      const key = writableKey(bar.keyChange.tonic + interval, bar.keyChange.mode);
      current = (key.tonic - bar.keyChange.tonic) as Degree;
      return transposeBar(bar, current, key);
    }),
  }));
  return { ...chart, key: toKey, sections };
}

/**
 * The chart in another key, spelled as a musician would write it there: chords move exactly, a root that would need two
 * accidentals is written the other way. The mode stays the chart's own: only the tonic of `toKey` counts, obeyed as it
 * is asked for wherever that key can be written (D flat minor cannot: C sharp minor it is). Ids stay.
 * @param fromKey the key it is in; needed where the chart states none (the analysis finds it)
 * @throws TypeError where the chart states no key and none is given.
 * @example transposeChart(chart, parseKey('Gb major')!)
 */
export function transposeChart(chart: Chart, toKey: Key, fromKey: Key | null = chart.key): Chart {
  if (fromKey === null) throw new TypeError('fromKey must be given where the chart states no key');
  const key = writableKey(toKey.tonic, fromKey.mode);
  return moveChart(chart, (key.tonic - fromKey.tonic) as Degree, key);
}

/**
 * The chart moved up by an interval, octaves apart counted as one; a key that could not be written there takes its
 * usual spelling, and the chords with it.
 * @example transposeChartBy(chart, degree('2')) // a whole step up
 */
export function transposeChartBy(chart: Chart, interval: Degree): Chart {
  if (chart.key === null) return moveChart(chart, interval, null);
  const key = writableKey(chart.key.tonic + interval, chart.key.mode);
  return moveChart(chart, (key.tonic - chart.key.tonic) as Degree, key);
}
