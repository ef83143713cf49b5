import type { Feel, Meter } from '../chart/index.ts';
import type { Part, PartStaff } from '../parts/index.ts';
import type { ChordSymbol, Key, NoteName, Pitch } from '../theory/index.ts';

/** One written note of a staff; several with one start are a chord. Ticks from the first full bar. */
export interface ScoreNote {
  readonly pitch: Pitch;
  readonly startTicks: number;
  readonly durationTicks: number;
  /** 1 to 5, null where none is written. */
  readonly finger: number | null;
}

/** A chord symbol over the staff. */
export interface ScoreChord {
  readonly startTicks: number;
  readonly chord: ChordSymbol;
  /** ASCII numeral, empty where none. */
  readonly numeral: string;
}

/** Where the thumb moves to a new key: drawn as a thumb tab under the right hand's staff. */
export interface ScoreThumb {
  readonly startTicks: number;
  readonly thumb: NoteName;
}

/** A bar of the score: each written bar each time it is played. */
export interface ScoreBar {
  /** As counted on paper in the chart. */
  readonly number: number;
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly meter: Meter;
  readonly key: Key;
  /** Section name where one begins here. */
  readonly section: string | null;
  readonly isPickup: boolean;
}

/** A staff of the score. */
export interface ScoreStaff {
  readonly role: PartStaff;
  readonly clef: Part['clef'];
  readonly notes: readonly ScoreNote[];
}

/** A phrase of the chorus, from its first note's start to its last note's end. */
export interface ScorePhrase {
  readonly startTicks: number;
  readonly endTicks: number;
}

/** The written music: one frozen document that every writer reads. Starts ascend within each list. */
export interface Score {
  readonly title: string;
  readonly key: Key;
  readonly meter: Meter;
  /** Beats a minute (the metre's beat). */
  readonly tempoBpm: number;
  readonly feel: Feel;
  readonly bars: readonly ScoreBar[];
  readonly chords: readonly ScoreChord[];
  readonly thumbs: readonly ScoreThumb[];
  readonly staves: readonly ScoreStaff[];
  readonly phrases: readonly ScorePhrase[];
  readonly endTicks: number;
}
