/**
 * Chord sequences with a person's harmonic function for every chord, as plain data (../shared/data/jazz-corpus; its README
 * has authors and licence). Its way of writing is turned into ours here; nothing of it is part of the product.
 */
import { parseKey, readChart, type Chart, type Key } from '@fivespan/core';
import { openDataLines } from './open-data.ts';

interface Sequence {
  readonly id: string;
  readonly key: string;
  readonly bar: number;
  readonly chords: string;
  readonly beats: string;
  readonly cats: string;
}

export interface LabelledSequence {
  readonly name: string;
  /** Chords are transposed to a tonic of C; the mode is the original's. */
  readonly key: Key;
  readonly chart: Chart;
  /** The person's category, by chord in order. */
  readonly categories: readonly string[];
  /** The first beat of each chord, from the first one on. */
  readonly startBeats: readonly number[];
}

/** Sequences that the data's README says end away from C. */
export const ENDS_AWAY: ReadonlySet<string> = new Set(['sequence-9', 'sequence-32', 'sequence-62', 'sequence-107']);

const KINDS: Readonly<Record<string, string>> = {
  '': '',
  '7': '7',
  m7: 'm7',
  M7: 'maj7',
  '%7': 'm7b5',
  m: 'm',
  aug7: '+7',
  o7: 'dim7',
  'sus4,7': '7sus',
  'm,M7': 'm(maj7)',
};
const ALTERED: Readonly<Record<string, string>> = {
  'b5,7': '7(b5)',
  '#5,7': '+7',
  'b5,M7': 'maj7(b5)',
  '#5,m7': 'm7(#5)',
};

/** An altered fifth follows the root: `Gb5,7` is G7(b5), `Gbb5,7` is Gb7(b5). */
export function ourChord(theirs: string): string {
  const altered = /^([A-G]b?)([b#]5,.*)$/u.exec(theirs);
  const [, root = '', kind = ''] = altered ?? /^([A-G]b?)(.*)$/u.exec(theirs) ?? [];
  const suffix = (altered === null ? KINDS : ALTERED)[kind];
  if (suffix === undefined) throw new TypeError(`unexpected chord in the data: ${theirs}`);
  return root + suffix;
}

function read({ id, key, bar, chords, beats, cats }: Sequence): LabelledSequence | undefined {
  const mode = /(major|minor)$/u.exec(key)?.[1];
  const home = mode === undefined ? undefined : parseKey(`C ${mode}`);
  const lengths = beats.split(' ').map(Number);
  const cells = chords
    .split(' ')
    .flatMap((chord, index) => [ourChord(chord), ...Array.from({ length: (lengths[index] as number) - 1 }, () => '/')]);
  while (cells.length % bar !== 0) cells.push('/');
  const bars = Array.from({ length: cells.length / bar }, (_, at) => cells.slice(at * bar, (at + 1) * bar).join(' '));
  const chart = readChart(`meter: ${bar}/4\n\nA:\n| ${bars.join(' | ')} |\n`);
  if (home === undefined || !chart.ok) return undefined;
  let beat = 0;
  const startBeats = lengths.map((length) => (beat += length) - length);
  return { name: id, key: home, chart: chart.value, categories: cats.split(' '), startBeats };
}

const sequences = openDataLines('jazz-corpus', 'sequences.jsonl') as readonly Sequence[] | null;

/** All sequences in a major or minor key, or null where the open data is not on this machine. */
export const corpusSequences: readonly LabelledSequence[] | null =
  sequences?.map(read).filter((each) => each !== undefined) ?? null;
