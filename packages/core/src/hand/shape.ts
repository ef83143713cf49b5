import type { Degree, NoteName, PitchClassSet } from '../theory/index.ts';

/** Five notes under five fingers, thumb lowest. */
export interface Shape {
  /** Stable identifier: `minor-pentatonic`; for shapes without a trade name the steps, `0-1-4-7-10`. */
  readonly id: string;
  /** The trade's name where there is one: `minor pentatonic`, `minor-six pentatonic`. */
  readonly name: string;
  /** Semitones from the thumb, ascending, the first 0, all within the octave. */
  readonly steps: readonly [0, number, number, number, number];
  /** The steps spelled above the thumb. */
  readonly degrees: readonly [Degree, Degree, Degree, Degree, Degree];
}

/** A shape at a thumb note; finger n is on notes[n − 1]. */
export interface Position {
  readonly shape: Shape;
  readonly thumb: NoteName;
  readonly notes: readonly [NoteName, NoteName, NoteName, NoteName, NoteName];
  readonly set: PitchClassSet;
}

/** All positions of one shape inside one set of notes. */
export interface Family {
  readonly shape: Shape;
  /** Along the chain where there is one, else ascending from the set's root. */
  readonly positions: readonly Position[];
  /** Semitones between neighbouring thumbs (7 for fifths) where they form a chain; null otherwise. */
  readonly chainSemitones: number | null;
  /** Whether the positions together hold the whole set. */
  readonly complete: boolean;
}
