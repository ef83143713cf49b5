/** What the page says to the audio thread and hears from it. Plain data. */
import type { RenderedNote } from '@fivespan/sound/engine';

/** What a deck must know of a piece before any of it is there. */
export interface PieceSettings {
  readonly playerCount: number;
  /** Right gain over left, by player. */
  readonly balance: Float64Array;
  readonly endSeconds: number;
  /** The slowest rate at which its notes are long enough. */
  readonly slowestRate: number;
}

/** A rendered note under the number by which windows name it. Sent once. */
export interface SentNote {
  readonly number: number;
  readonly note: RenderedNote;
}

/** The events that begin within a stretch of a piece, in order. */
export interface PieceWindow {
  /** Its place among the piece's windows, from 0. */
  readonly index: number;
  readonly fromSeconds: number;
  readonly toSeconds: number;
  readonly startSeconds: Float64Array;
  readonly leftSeconds: Float64Array;
  /** Numbers of rendered notes. */
  readonly note: Int32Array;
  readonly player: Int32Array;
  readonly gainLeft: Float32Array;
  readonly gainRight: Float32Array;
}

/** A window with the notes that the deck does not have yet, and those that it can forget. */
export interface WindowDelivery {
  readonly window: PieceWindow;
  readonly notes: readonly SentNote[];
  readonly forgotten: readonly number[];
}

/** The programme is on one deck, what is tried out at the desk on the other: neither disturbs the other. */
export type DeckName = 'programme' | 'desk';

export interface StretchSeconds {
  readonly fromSeconds: number;
  readonly toSeconds: number;
}

/** Bars that go round: at `toSeconds` through the rest, where there is one, to `fromSeconds` again. */
export interface LoopSeconds extends StretchSeconds {
  readonly rest: StretchSeconds | null;
}

/** To the audio thread. */
export type DeckOrder =
  /** `number` is how the deck's reports name the piece. */
  | { readonly kind: 'begin'; readonly number: number; readonly piece: PieceSettings }
  | { readonly kind: 'put'; readonly delivery: WindowDelivery }
  | { readonly kind: 'drop'; readonly windows: readonly number[] }
  | { readonly kind: 'seek'; readonly seconds: number }
  | { readonly kind: 'play' }
  | { readonly kind: 'pause' }
  | { readonly kind: 'rate'; readonly rate: number }
  | { readonly kind: 'loop'; readonly loop: LoopSeconds | null }
  /** Once the position reaches `fromSeconds` it goes on at `toSeconds`: from a count-in to any bar. */
  | { readonly kind: 'jump'; readonly jump: StretchSeconds | null }
  | {
      readonly kind: 'player';
      readonly player: number;
      readonly muted: boolean;
      readonly solo: boolean;
      readonly level: number;
    };

/** A decoded recording of the grand, by its place among them. */
export interface LiveRecording {
  readonly place: number;
  readonly samples: Float32Array<ArrayBuffer>;
}

export type AudioOrder =
  | { readonly kind: 'deck'; readonly deck: DeckName; readonly order: DeckOrder }
  /** The bank for notes played by hand. It is opened as soon as nothing else sounds. */
  | { readonly kind: 'live bank'; readonly bytes: Uint8Array }
  /** One of its recordings, decoded elsewhere. */
  | { readonly kind: 'live recording'; readonly recording: LiveRecording }
  | { readonly kind: 'note on'; readonly midi: number; readonly velocity: number }
  | { readonly kind: 'note off'; readonly midi: number }
  | { readonly kind: 'sustain'; readonly down: boolean }
  /** How loud what is played by hand is, linear. */
  | { readonly kind: 'live level'; readonly level: number };

/** How a deck stands. 'waiting': it would play, but what comes next is not there yet. */
export type DeckState = 'paused' | 'playing' | 'waiting' | 'ended';

/** From `contextSeconds` on (the audio clock) the deck's position is `positionSeconds` and moves at `rate`; 0 where it stands. */
export interface DeckReport {
  readonly contextSeconds: number;
  /** The number of the piece that is on the deck; 0 before the first. */
  readonly piece: number;
  readonly positionSeconds: number;
  readonly rate: number;
  readonly state: DeckState;
  /** Times that the loop has begun again since the piece was begun. */
  readonly loopPasses: number;
}

/** From the audio thread. */
export type AudioReport =
  | { readonly kind: 'deck'; readonly deck: DeckName; readonly report: DeckReport }
  /** The keys sound from now on. */
  | { readonly kind: 'live' }
  | { readonly kind: 'failed'; readonly message: string };
