import type { HandSize } from '../hand-size.ts';
import { imaginaryKeyRuler, millimetreRuler, semitoneRuler, type Ruler } from './ruler.ts';
import { balliauwSpans, PARNCUTT_SPANS, type SpanTable } from './span-table.ts';

/** The twelve rules of Parncutt et al. 1997 in their order; the variants weigh them differently. */
export const FINGERING_RULES = [
  'stretch',
  'small span',
  'large span',
  'position change count',
  'position change size',
  'weak finger',
  'three-four-five',
  'three to four',
  'four on black',
  'thumb on black',
  'five on black',
  'thumb passing',
] as const;

export type FingeringRule = (typeof FINGERING_RULES)[number];

/** What the rules charge, in cost units (see `unitsPerPoint`). */
export interface RuleWeights {
  /** For each step of the ruler outside the comfortable span. */
  readonly stretch: number;
  /** For each step under the relaxed span: pairs with the thumb, pairs without. */
  readonly smallSpan: readonly [withThumb: number, without: number];
  /** For each step over the relaxed span. */
  readonly largeSpan: readonly [withThumb: number, without: number];
  /** First and third note of three outside the comfortable span; more where the thumb turns the hand past the practical one. */
  readonly halfChange: number;
  readonly fullChange: number;
  /** First and third note on one key with different fingers. */
  readonly otherFingerOnSameKey: number;
  /** For each step by which first and third note lie outside the comfortable span. */
  readonly changeSize: number;
  /** For each use of finger 1 to 5. */
  readonly weakFinger: readonly [number, number, number, number, number];
  readonly threeFourFive: number;
  readonly threeToFour: number;
  readonly fourOnBlack: number;
  /** The thumb on a black key, and more for each neighbour on a white one. */
  readonly thumbOnBlack: number;
  readonly thumbOnBlackBesideWhite: number;
  readonly fiveOnBlackBesideWhite: number;
  /** The thumb under a finger or a finger over the thumb: between keys of one colour, and with the thumb on black. */
  readonly passOnOneLevel: number;
  readonly passWithThumbOnBlack: number;
  /** For each semitone by which a pass is wider than a half step; 0 in the published models. */
  readonly passWiderThanHalfStep: number;
}

/** A published way, or ours, to say what a fingering costs. */
export interface FingeringModel {
  readonly id: FingeringModelId;
  readonly name: string;
  readonly source: string;
  readonly spans: SpanTable;
  readonly ruler: Ruler;
  /** Costs are integers; this many make one point of the publication. */
  readonly unitsPerPoint: number;
  readonly weights: RuleWeights;
}

export type FingeringModelId = 'parncutt' | 'jacobs' | 'balliauw' | 'fivespan';

export const FINGERING_MODEL_IDS: readonly FingeringModelId[] = ['parncutt', 'jacobs', 'balliauw', 'fivespan'];

/** Source: Parncutt et al. 1997, rules 1–12, as in docs/sources.md, 2. Rule 3 in the natural direction only. */
const PARNCUTT_WEIGHTS: RuleWeights = {
  stretch: 2,
  smallSpan: [1, 2],
  largeSpan: [1, 2],
  halfChange: 1,
  fullChange: 2,
  otherFingerOnSameKey: 0,
  changeSize: 1,
  weakFinger: [0, 0, 0, 1, 1],
  threeFourFive: 1,
  threeToFour: 1,
  fourOnBlack: 1,
  thumbOnBlack: 1,
  thumbOnBlackBesideWhite: 2,
  fiveOnBlackBesideWhite: 2,
  passOnOneLevel: 1,
  passWithThumbOnBlack: 3,
  passWiderThanHalfStep: 0,
};

/** Source: Jacobs 2001 (docs/sources.md, 2): rule 3 alike for all pairs, finger 4 alone is weak, rule 7 dropped. */
const JACOBS_WEIGHTS: RuleWeights = {
  ...PARNCUTT_WEIGHTS,
  largeSpan: [1, 1],
  weakFinger: [0, 0, 0, 1, 0],
  threeFourFive: 0,
};

/**
 * In half points. Source: Balliauw et al. 2017, its rules 1–11, as in docs/sources.md, 2, and the public code
 * dvdrndlph/pydactyl: one point a step for spans under or over the relaxed one, black keys under thumb and little finger
 * at half price, 2 for a pass onto black, 1 for another finger on the same key.
 */
const BALLIAUW_WEIGHTS: RuleWeights = {
  stretch: 4,
  smallSpan: [2, 2],
  largeSpan: [2, 2],
  halfChange: 2,
  fullChange: 4,
  otherFingerOnSameKey: 2,
  changeSize: 2,
  weakFinger: [0, 0, 0, 2, 0],
  threeFourFive: 0,
  threeToFour: 2,
  fourOnBlack: 2,
  thumbOnBlack: 1,
  thumbOnBlackBesideWhite: 2,
  fiveOnBlackBesideWhite: 2,
  passOnOneLevel: 2,
  passWithThumbOnBlack: 4,
  passWiderThanHalfStep: 0,
};

/**
 * Ours, in half points, on Jacobs' ruler: the same rules, weighed anew against the 1900 book of scales, arpeggios and
 * broken chords whose fingerings are open data (bench/fingering.ts says how often each model agrees with it). Why each
 * weight moved: printed fingerings would rather open the hand than turn it, so a stretch costs a quarter of what it did
 * and a pass four times as much; they turn where a half step makes it small, so a wider pass costs more; they keep the
 * thumb off black keys whatever stands beside it; they save the middle finger as much as the weak ones, so that it falls
 * on the same notes in every octave; half changes of position and runs of 3, 4, 5 they do not mind.
 */
const FIVESPAN_WEIGHTS: RuleWeights = {
  stretch: 1,
  smallSpan: [2, 4],
  largeSpan: [2, 2],
  halfChange: 0,
  fullChange: 4,
  otherFingerOnSameKey: 0,
  changeSize: 2,
  weakFinger: [0, 0, 3, 2, 4],
  threeFourFive: 0,
  threeToFour: 0,
  fourOnBlack: 4,
  thumbOnBlack: 10,
  thumbOnBlackBesideWhite: 0,
  fiveOnBlackBesideWhite: 2,
  passOnOneLevel: 9,
  passWithThumbOnBlack: 16,
  passWiderThanHalfStep: 1,
};

/** The models, all but the spans of Balliauw's, which depend on the hand. */
const MODELS: Readonly<Record<FingeringModelId, Omit<FingeringModel, 'id' | 'spans'>>> = {
  parncutt: {
    name: 'Parncutt and others 1997',
    source: 'Parncutt, Sloboda, Clarke, Raekallio, Desain 1997, Music Perception 14:341–382',
    ruler: semitoneRuler,
    unitsPerPoint: 1,
    weights: PARNCUTT_WEIGHTS,
  },
  jacobs: {
    name: 'Jacobs 2001',
    source: 'Jacobs 2001, Music Perception 18:505–511',
    ruler: millimetreRuler,
    unitsPerPoint: 1,
    weights: JACOBS_WEIGHTS,
  },
  balliauw: {
    name: 'Balliauw and others 2017',
    source: 'Balliauw, Herremans, Palhazi Cuervo, Sörensen 2017',
    ruler: imaginaryKeyRuler,
    unitsPerPoint: 2,
    weights: BALLIAUW_WEIGHTS,
  },
  fivespan: {
    name: 'Fivespan',
    source: 'ours, after Parncutt and others 1997 and Jacobs 2001',
    ruler: millimetreRuler,
    unitsPerPoint: 2,
    weights: FIVESPAN_WEIGHTS,
  },
};

/**
 * A fingering model by its name. Only `balliauw` heeds the size of the hand, as published.
 * @param hand the size of the hand; medium when left out.
 * @throws RangeError where a measured span is no hand's.
 */
export function fingeringModel(id: FingeringModelId, hand: HandSize = 'medium'): FingeringModel {
  return { id, ...MODELS[id], spans: id === 'balliauw' ? balliauwSpans(hand) : PARNCUTT_SPANS };
}
