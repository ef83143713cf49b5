import type { Finger } from '../position.ts';
import type { HandSize } from '../hand-size.ts';
import { sizeClassOf } from '../hand-size.ts';

/**
 * How far apart two fingers play, in units of a ruler, the higher-numbered finger counted from the lower-numbered one:
 * negative where they cross. Practical: what can be done; comfortable: without strain; relaxed: as the hand falls.
 */
export interface Span {
  readonly minPractical: number;
  readonly minComfortable: number;
  readonly minRelaxed: number;
  readonly maxRelaxed: number;
  readonly maxComfortable: number;
  readonly maxPractical: number;
}

/** Spans of all pairs, at index `5 × (lower finger − 1) + higher finger − 1`. */
export type SpanTable = readonly Span[];

const PAIRS = ['1-2', '1-3', '1-4', '1-5', '2-3', '2-4', '2-5', '3-4', '3-5', '4-5'] as const;

/** A finger with itself spans nothing. */
const NOTHING: Span = {
  minPractical: 0,
  minComfortable: 0,
  minRelaxed: 0,
  maxRelaxed: 0,
  maxComfortable: 0,
  maxPractical: 0,
};

type Row = readonly [number, number, number, number, number, number];

function spanTable(rows: Readonly<Record<(typeof PAIRS)[number], Row>>): SpanTable {
  const table: Span[] = Array.from({ length: 25 }, () => NOTHING);
  for (const pair of PAIRS) {
    const [minPractical, minComfortable, minRelaxed, maxRelaxed, maxComfortable, maxPractical] = rows[pair];
    table[5 * (Number(pair[0]) - 1) + Number(pair[2]) - 1] = {
      minPractical,
      minComfortable,
      minRelaxed,
      maxRelaxed,
      maxComfortable,
      maxPractical,
    };
  }
  return table;
}

/** The span of two fingers, whichever comes first. */
export function spanOf(table: SpanTable, a: Finger, b: Finger): Span {
  return table[a < b ? 5 * (a - 1) + b - 1 : 5 * (b - 1) + a - 1] as Span;
}

/**
 * Semitones. Source: Parncutt, Sloboda, Clarke, Raekallio, Desain 1997, Music Perception 14:341–382, table 1, as in
 * docs/sources.md, 2 (read in the public code dvdrndlph/pydactyl).
 */
export const PARNCUTT_SPANS: SpanTable = spanTable({
  '1-2': [-5, -3, 1, 5, 8, 10],
  '1-3': [-4, -2, 3, 7, 10, 12],
  '1-4': [-3, -1, 5, 9, 12, 14],
  '1-5': [-1, 1, 7, 10, 13, 15],
  '2-3': [1, 1, 1, 2, 3, 5],
  '2-4': [1, 1, 3, 4, 5, 7],
  '2-5': [2, 2, 5, 6, 8, 10],
  '3-4': [1, 1, 1, 2, 2, 4],
  '3-5': [1, 1, 3, 4, 5, 7],
  '4-5': [1, 1, 1, 2, 3, 5],
});

/**
 * Steps of a keyboard with imaginary black keys, 14 to the octave, for three sizes of hand. Source: Balliauw, Herremans,
 * Palhazi Cuervo, Sörensen 2017, International Transactions in Operational Research 24 (title page from memory), as
 * transcribed in two public codes from dvdrndlph/pydactyl; the rows 1-5 agree with docs/sources.md, 2.
 */
const BALLIAUW_SPANS: Readonly<Record<'small' | 'medium' | 'large', SpanTable>> = {
  small: spanTable({
    '1-2': [-7, -5, 1, 3, 8, 10],
    '1-3': [-6, -4, 3, 6, 10, 12],
    '1-4': [-4, -2, 5, 8, 11, 13],
    '1-5': [-2, 0, 7, 10, 12, 14],
    '2-3': [1, 1, 1, 2, 4, 6],
    '2-4': [1, 1, 3, 4, 6, 8],
    '2-5': [2, 2, 5, 6, 8, 10],
    '3-4': [1, 1, 1, 2, 2, 4],
    '3-5': [1, 1, 3, 4, 6, 8],
    '4-5': [1, 1, 1, 2, 4, 6],
  }),
  medium: spanTable({
    '1-2': [-8, -6, 1, 5, 8, 10],
    '1-3': [-7, -5, 3, 9, 12, 14],
    '1-4': [-5, -3, 5, 11, 13, 15],
    '1-5': [-2, 0, 7, 12, 14, 16],
    '2-3': [1, 1, 1, 2, 5, 7],
    '2-4': [1, 1, 3, 4, 6, 8],
    '2-5': [2, 2, 5, 6, 10, 12],
    '3-4': [1, 1, 1, 2, 2, 4],
    '3-5': [1, 1, 3, 4, 6, 8],
    '4-5': [1, 1, 1, 2, 4, 6],
  }),
  large: spanTable({
    '1-2': [-10, -8, 1, 6, 9, 11],
    '1-3': [-8, -6, 3, 9, 13, 15],
    '1-4': [-6, -4, 5, 11, 14, 16],
    '1-5': [-2, 0, 7, 12, 16, 18],
    '2-3': [1, 1, 1, 2, 5, 7],
    '2-4': [1, 1, 3, 4, 6, 8],
    '2-5': [2, 2, 5, 6, 10, 12],
    '3-4': [1, 1, 1, 2, 2, 4],
    '3-5': [1, 1, 3, 4, 6, 8],
    '4-5': [1, 1, 1, 2, 4, 6],
  }),
};

/** Balliauw's table for a hand; a measured span takes the table of its size. */
export function balliauwSpans(hand: HandSize): SpanTable {
  return BALLIAUW_SPANS[sizeClassOf(hand)];
}
