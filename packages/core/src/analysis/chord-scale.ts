import {
  degreeAbove,
  type Chord,
  type Degree,
  type NoteName,
  type PitchClassSet,
  type Scale,
} from '../theory/index.ts';
import type { Reason } from './analysis.ts';

/** Where an avoid note goes. */
export interface Resolution {
  readonly note: NoteName;
  /** Semitones moved: −1, −2, 1 or 2. */
  readonly semitones: number;
}

export interface AvoidNote {
  readonly note: NoteName;
  /** Chord tones a step away, in the scale where it has any; the nearest first, down before up. Never empty. */
  readonly resolvesTo: readonly Resolution[];
}

/** How far outside, compared in this order: guide tones of the chord lost, notes outside the region's key. */
export interface Outsideness {
  readonly guideTonesLost: number;
  readonly notesOutsideKey: number;
}

/** A scale chosen for a chord, with what each of its notes does over it. */
export interface ChordScale {
  /** Stable within a ladder: scale kind and where its root stands above the chord's, `lydian@1`, `mixolydian@b5`. */
  readonly id: string;
  /** The name a musician uses: `Dorian`, `Lydian b7`, `altered`. */
  readonly name: string;
  readonly scale: Scale;
  /** From the scale's root up, spelled. */
  readonly notes: readonly NoteName[];
  /** Names that everything played or drawn over the chord keeps for these sounds, whatever the scale calls them. */
  readonly kept: readonly NoteName[];
  readonly set: PitchClassSet;
  readonly inside: boolean;
  readonly outsideness: Outsideness;
  /**
   * How the region's plain scale is moved to get here, in a player's words: `stay`, `up a fifth`, `tritone`, `up a half step`,
   * `melodic minor a half step up`. docs/chord-scales.md lists them.
   */
  readonly move: string;
  /** Root, third, fifth, seventh or sixth; a 9, 11 or 13 is a tension even where the symbol writes it. */
  readonly chordTones: readonly NoteName[];
  readonly tensions: readonly NoteName[];
  readonly avoid: readonly AvoidNote[];
  /** Notes of the chord the scale does not hold (an outside one says what it does to the chord). */
  readonly missing: readonly NoteName[];
  /** Words: wordsOfLadderReason. */
  readonly reason: Reason;
}

/**
 * What a note of a chord-scale is above a chord's root, by its function: A over A♭7 is its ♭9, though A♭ to A is written as a raised
 * root. Notes of a scale on another root go by their spelling.
 * @example degreeInScale(chord('Fm7'), chordScale, noteName('Ab'))
 */
export function degreeInScale(chord: Chord, { scale, notes }: ChordScale, note: NoteName): Degree {
  const byFunction = scale.root === chord.root ? scale.kind.degrees[notes.indexOf(note)] : undefined;
  return byFunction ?? degreeAbove(chord.root, note);
}
