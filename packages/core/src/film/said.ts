import type { ChordScale } from '../analysis/index.ts';
import type { Finger, Position } from '../hand/index.ts';
import type { Chord, ChordSymbol, Key, Midi, NoteName } from '../theory/index.ts';

/** A hand where it lies: what a tab names. A name alone may stand for another shape, or another octave. */
export interface HandPlace {
  readonly position: Position;
  readonly thumbMidi: Midi;
}

/**
 * What is said at a time of a film: codes and arguments. Words are made where they are drawn or written. `lesson` is which of the
 * film's lessons names its hands.
 */
export type Said =
  | { readonly code: 'own'; readonly text: string }
  | { readonly code: 'title'; readonly title: string; readonly key: Key; readonly tempoBpm: number }
  | { readonly code: 'idea.chord'; readonly chord: Chord }
  | { readonly code: 'idea.scale'; readonly chord: Chord; readonly chordScale: ChordScale }
  | {
      readonly code: 'idea.family';
      readonly chord: Chord;
      readonly shape: string;
      readonly lesson: number;
      readonly hands: readonly HandPlace[];
    }
  | {
      readonly code: 'idea.rubs';
      readonly chord: Chord;
      readonly chordScale: ChordScale;
      readonly note: NoteName;
      readonly target: NoteName;
      readonly semitones: number;
    }
  | { readonly code: 'position.thumb'; readonly chord: Chord; readonly lesson: number; readonly hand: HandPlace }
  | { readonly code: 'position.fingers'; readonly position: Position }
  | { readonly code: 'position.thirds'; readonly pairs: readonly (readonly [Finger, Finger])[] }
  | { readonly code: 'play.listen'; readonly tempoBpm: number }
  | { readonly code: 'play.turn'; readonly tempoBpm: number }
  | {
      readonly code: 'play.thumb';
      readonly chord: Chord;
      readonly chordScale: ChordScale | null;
      readonly lesson: number;
      readonly hand: HandPlace;
    }
  /** Several chords in the time of one sentence: their hands in order, one that stays said once. */
  | {
      readonly code: 'play.thumbs';
      readonly chords: readonly Chord[];
      readonly lesson: number;
      readonly hands: readonly HandPlace[];
    }
  | { readonly code: 'play.chord'; readonly chord: ChordSymbol }
  | { readonly code: 'play.ending' }
  | { readonly code: 'key'; readonly key: Key }
  | { readonly code: 'end'; readonly key: Key };

/** Something said, and for how long it is read. Cues follow each other and never overlap. */
export interface Cue {
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly said: Said;
}
