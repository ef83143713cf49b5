import type { Chart, Choices, DrillOrder, Programme } from '@fivespan/core';

/** What kind of file is made, by the ending of its name. */
export type SoundKind = 'wav' | 'flac' | 'mp3' | 'mid';
export const SOUND_KINDS: readonly SoundKind[] = ['wav', 'flac', 'mp3', 'mid'];

/** One file to make: plain data, handed to the worker. */
export interface SoundOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly programme: Programme;
  /** A drill that is played by the programme in the tune's place. */
  readonly drill?: DrillOrder;
  readonly kind: SoundKind;
  readonly title: string;
  /** The sound bank's file; not looked at for MIDI. */
  readonly bankFile: string;
  readonly sampleRate: 44_100 | 48_000;
  readonly bits: 16 | 24;
  /** An empty folder for what is too large to be held in memory; whoever made it removes it. */
  readonly scratchFolder: string;
}

/** What the worker says: how far it is, what is wrong, or that the file is made. */
export type SoundMessage =
  | { readonly kind: 'progress'; readonly what: 'playing' | 'sounding'; readonly done: number; readonly total: number }
  | { readonly kind: 'faults'; readonly messages: readonly string[] }
  | {
      readonly kind: 'made';
      /** The file's beginning, and its end; what is between is in `body`, a file of the scratch folder. */
      readonly head: Uint8Array;
      readonly body: string;
      readonly tail: Uint8Array;
      readonly bytes: number;
      readonly seconds: number;
      readonly chapters: number;
    };
