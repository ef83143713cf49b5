/**
 * Parts whose notes a teacher may write: lines of single notes, whether the hand's position has a say in them, and whether they lie
 * in the range that is chosen for the bass. Voicings are fixed
 * as the chords they are.
 */
export const LINE_RULES = {
  chorus: { inPosition: true, inBassRange: false },
  bass: { inPosition: false, inBassRange: true },
} as const;
export type LineId = keyof typeof LINE_RULES;
export const LINES = Object.keys(LINE_RULES) as LineId[];

/** A note as a teacher wrote it. */
export interface PinnedNote {
  /** From its chord's start. */
  readonly onsetTicks: number;
  readonly durationTicks: number;
  /** MIDI number; its name follows from the chord, in every key. */
  readonly key: number;
}

/**
 * What a teacher wrote in a line over one chord, in the chart as written: all the notes that begin there and no others; none is a
 * silence.
 */
export interface NotePin {
  readonly part: LineId;
  readonly slot: string;
  readonly pass: number;
  /** The chord it was written over, by its symbol: where the chart has another now, the notes may no longer fit. */
  readonly over: string;
  /** In time order, one at a time. */
  readonly notes: readonly PinnedNote[];
}

/** More notes than a hand plays over the longest chord. */
export const MOST_NOTES_OF_PIN = 128;
/** Longer than any bar. */
export const LONGEST_PIN_TICKS = 960 * 64;
/** A thirty-second note; nothing shorter is written. */
export const SHORTEST_PINNED_TICKS = 120;
