/** What a stage shows, as plain data: play view, and whatever else shows a hand at the keyboard, puts it together. */
import type { ChordSymbol, Midi } from '@fivespan/core';

/** A hand on its keys: the keys under its fingers, the thumb's first. */
export type HandKeys = readonly Midi[];

/** A thumb tab hanging from its key: filled where the thumb is, outlined where it may be, dashed where it goes. */
export interface StageTab {
  readonly midi: Midi;
  /** As printed, with the sign of its shape. */
  readonly name: string;
  readonly role: 'now' | 'may' | 'next';
  /** Of the second family that a chord allows: another outline. */
  readonly isSecond?: boolean;
}

/**
 * A key that is down on a connected keyboard: inside what the hand may play, outside, or a note that must not stay and does.
 */
export interface StageMark {
  readonly midi: number;
  readonly sign: 'inside' | 'outside' | 'stays';
}

export interface StageBeats {
  /** From 0. */
  readonly beat: number;
  readonly beats: number;
  /** `beat 2 of 4` */
  readonly label: string;
}

/** The line on top: where one is, in which key, how fast. */
export interface StageLine {
  /** Large: a bar's number, or a word. `said` is the whole of it as one says it: `bar 9 of 16, second time`. */
  readonly place: { readonly before: string; readonly large: string; readonly after: string };
  readonly key: string;
  /** The key of the next bar, where it is another one. */
  readonly comingKey: string | null;
  readonly tempoBpm: number;
  /** Who plays just now, where a demonstration leaves time to answer; null elsewhere. */
  readonly turn?: { readonly said: string; readonly isMine: boolean } | null;
}

/** Left of the barline what is now, right of it what is next. */
export interface StageContent {
  readonly line: StageLine;
  /** Null for a free hand: the chord takes its place. */
  readonly thumb: { readonly label: string; readonly name: string } | null;
  /** A chord, or words where none sounds. */
  readonly now: ChordSymbol | string;
  /** Slashes, or what is to be read while nothing sounds. */
  readonly beats: StageBeats | { readonly rests: string };
  readonly next: {
    readonly chord: ChordSymbol | null;
    /** Where the hand goes; null where it stays to the end. */
    readonly hand: { readonly name: string; readonly keys: HandKeys } | null;
    /** Where a free hand may go then, a list of names for each family; null in one way. */
    readonly thumbs: readonly (readonly string[])[] | null;
    /** When it goes there. */
    readonly when: string;
    /** Whether it goes there with the chord beside it: then nobody needs to read when. */
    readonly isWithChord: boolean;
  } | null;
  readonly keyboard: StageKeys;
}

export interface StageKeys {
  readonly hand: HandKeys;
  readonly tabs: readonly StageTab[];
  /**
   * For a free hand, all sets of tabs that the piece will ever show, as what hangs and as what comes: their rows are kept, so that
   * nothing changes its size. Null in one way.
   */
  readonly everyFreeSet: readonly (readonly StageTab[])[] | null;
  /** Every key the hand will lie on: the picture holds them all where there is room, and stays as it is. */
  readonly travels: { readonly lowest: Midi; readonly highest: Midi };
  /** What a screen reader hears. */
  readonly label: string;
}
