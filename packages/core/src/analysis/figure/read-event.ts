import type { Reading } from '../analysis.ts';
import type { HarmonicEvent } from '../harmony/event.ts';
import type { HarmonicFunction } from '../harmony/harmonic-function.ts';

/** A chord as long as it lasts, with its reading: what figures are found in. */
export interface ReadEvent {
  readonly event: HarmonicEvent;
  readonly reading: Reading;
  readonly chosen: HarmonicFunction;
  /** Semitones of the root above the tonic of the reading's key. */
  readonly place: number;
}

/** The form as figures see it: its chords, and for each bar the chord sounding on its first beat. */
export interface Line {
  readonly chords: readonly ReadEvent[];
  readonly bars: readonly LineBar[];
}

/** A played bar. */
export interface LineBar {
  /** Indices into the line's chords of all that sound in it; empty in a silent bar. */
  readonly sounding: readonly number[];
  readonly startsSection: boolean;
}

/** Whether two chords stand in one key. */
export function sameKey(a: ReadEvent, b: ReadEvent): boolean {
  return a.reading.key.tonic === b.reading.key.tonic && a.reading.key.mode === b.reading.key.mode;
}

/** All slots of some chords, in order. */
export function slotsOf(chords: readonly ReadEvent[]): number[] {
  return chords.flatMap(({ event }) => event.slots);
}

export function isDominantClass({ event }: ReadEvent): boolean {
  return event.chordClass === 'D' || event.chordClass === 's' || event.chordClass === '+';
}

export function isTwoClass({ event }: ReadEvent): boolean {
  return event.chordClass === 'm' || event.chordClass === 'h';
}
