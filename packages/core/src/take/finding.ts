/** What a take shows, as codes with arguments; words are made at the edge (words.ts). */

/** What there is to work on, or just to know. One row a code: `docs/takes.md` states how each is found. */
export const FINDING_CODES = [
  'position.wrong',
  'position.other-move',
  'avoid.hanging',
  'time.rushing',
  'time.dragging',
  'time.late',
  'time.early',
  'left.dropped',
  'left.root-wrong',
  'left.uneven',
  'dynamics.flat',
  'phrase.no-rests',
  'guide-tones.missed',
] as const;
export type FindingCode = (typeof FINDING_CODES)[number];

/** What went well. */
export const PRAISE_CODES = [
  'position.found',
  'avoid.resolved',
  'guide-tones.met',
  'phrase.breathes',
  'phrase.lands',
  'phrase.motive',
  'time.steady',
  'time.together',
  'time.swings',
  'left.steady',
  'left.roots',
  'left.goes-on',
  'dynamics.alive',
] as const;
export type PraiseCode = (typeof PRAISE_CODES)[number];

export interface Finding {
  readonly code: FindingCode;
  /** As counted on paper in the chart, each once, ascending. */
  readonly bars: readonly number[];
  readonly hand: 'right' | 'left' | 'both';
  readonly value: number;
  readonly unit: 'notes' | 'ms' | 'ms a bar' | 'beats' | 'roots' | 'velocity' | 'bars' | 'share';
  /** 0 to 1. */
  readonly sure: number;
}

/** Which of two findings a student works on first: what shakes the music most, then what is learned soonest. Our own order. */
const FIRST: readonly FindingCode[] = [
  'left.dropped',
  'time.rushing',
  'time.dragging',
  'position.wrong',
  'left.root-wrong',
  'avoid.hanging',
  'time.late',
  'time.early',
  'left.uneven',
  'phrase.no-rests',
  'guide-tones.missed',
  'dynamics.flat',
];

/** The most that is given to work on at a time. */
export const MOST_TO_WORK_ON = 2;

/** At most two findings to work on, the first first. Another allowed move is nothing to mend. */
export function toWorkOn(findings: readonly Finding[]): readonly Finding[] {
  return FIRST.flatMap((code) => findings.filter((each) => each.code === code).slice(0, 1)).slice(0, MOST_TO_WORK_ON);
}
