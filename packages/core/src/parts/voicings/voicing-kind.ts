import type { NoteName } from '../../theory/index.ts';

/** What kinds of voicings a teacher asks for, from two notes in one hand to two hands. Trade words. */
export const VOICING_KINDS = ['guide tones', 'shells', 'rootless', 'two hands', 'quartal', 'upper structures'] as const;
export type VoicingKind = (typeof VOICING_KINDS)[number];

/** What a hand comps with beside a bass player. */
export type VoicingStyle = Extract<VoicingKind, 'shells' | 'rootless'>;

/** How a voicing is stacked; A and B are the two ways a rootless voicing sits in the hand, on the 3 and on the 7. */
export type VoicingFormName =
  | 'third below'
  | 'seventh below'
  | 'shell third'
  | 'shell seventh'
  | 'A'
  | 'B'
  | 'open'
  | 'two hands seventh'
  | 'two hands third'
  | 'two hands triad'
  | 'quartal'
  | 'upper structure'
  | 'own';

/** A triad over a chord: its root and its third. */
export interface UpperTriad {
  readonly root: NoteName;
  readonly quality: 'major' | 'minor';
}

/** Notes of a form from the lowest up; every pitch class once in a hand. */
export interface VoicingForm {
  readonly name: VoicingFormName;
  readonly notes: readonly NoteName[];
  /** How many of them, from the lowest, the left hand plays; all in one hand where it plays all. */
  readonly left: number;
  /** The right hand's triad in an upper structure. */
  readonly triad: UpperTriad | null;
}
