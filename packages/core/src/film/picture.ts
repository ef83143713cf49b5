import type { ChordScale } from '../analysis/index.ts';
import type { HandSide } from '../hand/index.ts';
import type { Chord, ChordSymbol, Key, Midi, NoteName } from '../theory/index.ts';
import type { HandPlace, Said } from './said.ts';

/** Above everything: which tune, in which key, how fast. */
export interface Heading {
  readonly title: string;
  readonly key: Key;
  readonly tempoBpm: number;
  /** Who plays, where somebody typed it. */
  readonly player?: string;
}

/** What is read where there is no music: a title, an idea's scale, the end. */
export type Card =
  | { readonly kind: 'title'; readonly title: string; readonly key: Key; readonly tempoBpm: number }
  /** A chord's scale, as many notes of it as have been named. */
  | { readonly kind: 'scale'; readonly chord: Chord; readonly chordScale: ChordScale; readonly named: number }
  /** A hand's notes over a chord, as many as have been played. */
  | {
      readonly kind: 'hand';
      readonly chord: Chord;
      readonly chordScale: ChordScale;
      readonly lesson: number;
      readonly hand: HandPlace;
      readonly named: number;
    }
  | { readonly kind: 'key'; readonly key: Key }
  | { readonly kind: 'end'; readonly title: string };

/** A line of the written music. Bars count the score's, `to` exclusive. */
export interface LineShown {
  /** Which of the film's lessons is written. */
  readonly lesson: number;
  readonly from: number;
  readonly to: number;
}

/** The chord now, and which beat of its bar it is. */
export interface NowShown {
  readonly chord: ChordSymbol | null;
  /** From 0; null where no time passes. */
  readonly beat: number | null;
  readonly beats: number;
}

export interface HandShown extends HandPlace {
  /** Fingers that have their numeral, from the thumb on. */
  readonly fingers: number;
}

/** A key that is held down: by which hand, and whether what it sounds belongs to the chord's scale. */
export interface PressedKey {
  readonly midi: Midi;
  readonly hand: HandSide;
  readonly isInside: boolean;
}

/** The keyboard's stretch and what is on it. */
export interface KeyboardShown {
  readonly lesson: number;
  readonly lowest: Midi;
  readonly highest: Midi;
  readonly hand: HandShown | null;
  /** Where the thumb goes next; null where it stays. */
  readonly next: HandPlace | null;
  /** What notes do over a chord, as many of the scale's as have been named. */
  readonly degrees: {
    readonly chord: Chord;
    readonly chordScale: ChordScale;
    readonly notes: readonly NoteName[];
  } | null;
  /** Keys held down, ascending, where a film follows what was played. */
  readonly pressed?: readonly PressedKey[];
}

/** Everything that a frame shows, as data. Two equal pictures look the same. */
export interface Picture {
  readonly heading: Heading | null;
  readonly card: Card | null;
  readonly line: LineShown | null;
  /** The bar that sounds, by its place in the score; null where none does. */
  readonly bar: number | null;
  readonly now: NowShown | null;
  /** Right of the barline: the next chord that is another one. */
  readonly next: ChordSymbol | null;
  readonly keyboard: KeyboardShown | null;
  readonly caption: Said | null;
}

export const EMPTY_PICTURE: Picture = {
  heading: null,
  card: null,
  line: null,
  bar: null,
  now: null,
  next: null,
  keyboard: null,
  caption: null,
};

/**
 * A text that changes when what is shown changes: a layer whose key stays need not be drawn again.
 * @example changeKey({ a: 1 }) === changeKey({ a: 1 }) // → true
 */
export function changeKey(shown: unknown): string {
  return JSON.stringify(shown);
}
