import type { Reason } from '../../analysis/index.ts';
import type { PlayedBar } from '../../chart/index.ts';
import type { HandSize } from '../../hand/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import type { ChorusLevel } from '../chorus/level.ts';
import type { HandNote } from '../note.ts';

/** Every kind of drill, in the order they are listed. */
export const DRILL_KINDS = [
  'finger-patterns',
  'family',
  'thumbs',
  'in-thirds',
  'avoid-notes',
  'outside-and-back',
  'motive',
  'hand-independence',
  'guide-tones',
  'call-and-answer',
  'same-line',
] as const;
export type DrillKindId = (typeof DRILL_KINDS)[number];

/** A bar a drill is made of, with what the hand does over its chords. */
export interface SourceBar {
  readonly playedBar: PlayedBar;
  readonly slots: readonly PlannedSlot[];
}

/** A chord's place in a bar of the drill. Ticks count from the bar's start. */
export interface PassageSlot {
  /** What the hand does: the source's own, or a copy with another position. */
  readonly slot: PlannedSlot;
  readonly startTicks: number;
  readonly durationTicks: number;
}

/** A bar of the drill: as long as its source, over one chord of it or over all. */
export interface PassageBar {
  readonly source: SourceBar;
  readonly slots: readonly PassageSlot[];
}

/** A stretch of a drill that does one thing. */
export interface Passage {
  /** What is done: a code with its arguments; words: wordsOfPassage. */
  readonly label: Reason;
  readonly bars: readonly PassageBar[];
  /** The notes, once the bars have their places: slots in time order, with their ticks in the drill. */
  readonly write: (slots: readonly PlannedSlot[]) => readonly HandNote[];
}

/** What a kind is made with. */
export interface DrillSetting {
  readonly level: ChorusLevel;
  readonly hand: HandSize;
  /** How far this key is above home's, or below. */
  readonly semitones: number;
  /** A source of its own for each name; the same in every key. */
  readonly random: (name: string) => RandomSource;
  /**
   * The line that is kept in every key: its notes as they lie over the source bars, in this key. Only the kind that keeps a line
   * asks for it.
   */
  readonly line: () => readonly HandNote[];
}

/** A kind of drill. */
export interface DrillKind {
  /** Whether the left hand walks, and is written: anew for each passage, the same in each, or not at all. */
  readonly leftHand: 'none' | 'walks' | 'walks the same each time';
  /** Whether fingers are those of the position: then the page shows where the thumb goes. */
  readonly inPositions: boolean;
  /** What is played over the bars; empty where they have nothing for it. */
  readonly passages: (bars: readonly SourceBar[], setting: DrillSetting) => readonly Passage[];
}
