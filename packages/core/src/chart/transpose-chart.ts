import {
  pitchClass,
  pitchClassOf,
  relativeKey,
  respelledChord,
  signatureOf,
  usualKey,
  type ChordSymbol,
  type Degree,
  type Key,
} from '../theory/index.ts';
import { barsOf, type Chart } from './chart.ts';
import { bassInKey, rootsInKey, type MovingChord } from './chord-naming.ts';

/** A key signature holds seven accidentals at most. */
const MOST_ACCIDENTALS = 7;

/** A key on a tonic of the line of fifths; where it could not be written, the usual key that sounds the same. */
function writableKey(tonicFifths: number, mode: Key['mode']): Key {
  const key = { tonic: tonicFifths, mode } as Key;
  return Math.abs(signatureOf(key)) <= MOST_ACCIDENTALS ? key : usualKey(pitchClass(tonicFifths * 7), mode);
}

/** The simplest name of a key that a stretch of its own moves to; the chart's own key where it sounds as that. */
function keyOfStretch(stretch: Key, interval: number, chartKey: Key | null): Key {
  const sound = pitchClass((stretch.tonic + interval) * 7);
  for (const each of chartKey === null ? [] : [chartKey, relativeKey(chartKey)]) {
    if (each.mode === stretch.mode && pitchClassOf(each.tonic) === sound) return each;
  }
  const exact = { tonic: stretch.tonic + interval, mode: stretch.mode } as Key;
  const usual = usualKey(sound, stretch.mode);
  return Math.abs(signatureOf(exact)) <= Math.abs(signatureOf(usual)) ? exact : usual;
}

/**
 * Moves all of a chart by an interval: chords as the key of their stretch moves, the chords of one cadence together. A chart that
 * stays in its key stays as it is.
 */
function moveChart(chart: Chart, interval: Degree, toKey: Key | null): Chart {
  if ((interval as number) === 0) return toKey === null ? chart : { ...chart, key: toKey };
  let current: number = interval;
  let key = toKey;
  const keyChanges: (Key | null)[] = [];
  const moving: MovingChord[] = [];
  for (const bar of barsOf(chart)) {
    if (bar.keyChange !== null) {
      key = keyOfStretch(bar.keyChange, interval, toKey);
      current = key.tonic - bar.keyChange.tonic;
    }
    keyChanges.push(bar.keyChange === null ? null : key);
    for (const { chord } of bar.slots) moving.push({ chord, interval: current, key });
  }
  const chords = rootsInKey(moving).map((root, index): ChordSymbol => {
    const { chord } = moving[index] as MovingChord;
    if (chord.kind !== 'chord' || root === undefined) return chord;
    return respelledChord(chord, root, bassInKey(chord, root));
  });
  let slotIndex = 0;
  let barIndex = 0;
  const sections = chart.sections.map((section) => ({
    ...section,
    bars: section.bars.map((bar) => ({
      ...bar,
      keyChange: keyChanges[barIndex++] ?? null,
      slots: bar.slots.map((slot) => ({ ...slot, chord: chords[slotIndex++] as ChordSymbol })),
    })),
  }));
  return { ...chart, key: toKey, sections };
}

/**
 * The chart in another key, spelled as a musician would write it there: chords move exactly but
 * for what docs/spelling.md, (f) and (g), say. The mode stays the chart's own: only the tonic of `toKey` counts, obeyed as it
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
