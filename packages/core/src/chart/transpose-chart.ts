import {
  notesOfKey,
  pitchClass,
  signatureOf,
  transposeChord,
  usualKey,
  type ChordSymbol,
  type Degree,
  type Key,
} from '../theory/index.ts';
import { barsOf, type Chart } from './chart.ts';

/** A key signature holds seven accidentals at most. */
const MOST_ACCIDENTALS = 7;

/** A key on a tonic of the line of fifths; where it could not be written, the usual key that sounds the same. */
function writableKey(tonicFifths: number, mode: Key['mode']): Key {
  const key = { tonic: tonicFifths, mode } as Key;
  return Math.abs(signatureOf(key)) <= MOST_ACCIDENTALS ? key : usualKey(pitchClass(tonicFifths * 7), mode);
}

/** A slot's chord on its way to another key. */
interface Move {
  readonly chord: ChordSymbol;
  readonly interval: Degree;
  /** The key the music is in there, after the move; null where none is stated. */
  readonly key: Key | null;
  readonly moved: ChordSymbol;
}

/** How far a chord's root was moved to its other spelling: 0, or twelve fifths either way. */
function respellingOf({ chord, interval, moved }: Move): number {
  return chord.kind === 'chord' && moved.kind === 'chord' ? moved.root - (chord.root + interval) : 0;
}

/** Roots such as F flat and E sharp: where the key does not have them, they are written only if they must be. */
const LOWEST_EASY_FIFTHS = -6;
const HIGHEST_EASY_FIFTHS = 10;

/**
 * A chord that could be written exactly still follows a neighbour a fifth away that could not: F flat m7 before A7
 * (for B double flat 7) is written Em7. Not where its root belongs to the key. Common practice.
 */
function followNeighbours(moves: readonly Move[]): ChordSymbol[] {
  return moves.map((move, index) => {
    const { chord, interval, key, moved } = move;
    if (chord.kind !== 'chord' || moved.kind !== 'chord' || key === null || respellingOf(move) !== 0) return moved;
    const isEasy = moved.root >= LOWEST_EASY_FIFTHS && moved.root <= HIGHEST_EASY_FIFTHS;
    if (isEasy || notesOfKey(key).includes(moved.root)) return moved;
    const neighbour = [moves[index - 1], moves[index + 1]].find(
      (each) =>
        each?.chord.kind === 'chord' && respellingOf(each) !== 0 && Math.abs(each.chord.root - chord.root) === 1,
    );
    return neighbour === undefined ? moved : transposeChord(chord, (interval + respellingOf(neighbour)) as Degree);
  });
}

/**
 * Moves all of a chart by an interval; where a key signature of its course could not be written, that stretch moves to
 * the other spelling.
 */
function moveChart(chart: Chart, interval: Degree, toKey: Key | null): Chart {
  let current = interval;
  let key = toKey;
  const keyChanges: (Key | null)[] = [];
  const moves: Move[] = [];
  for (const bar of barsOf(chart)) {
    if (bar.keyChange !== null) {
      key = writableKey(bar.keyChange.tonic + interval, bar.keyChange.mode);
      current = (key.tonic - bar.keyChange.tonic) as Degree;
    }
    keyChanges.push(bar.keyChange === null ? null : key);
    for (const { chord } of bar.slots) {
      moves.push({ chord, interval: current, key, moved: transposeChord(chord, current) });
    }
  }
  const chords = followNeighbours(moves);
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
