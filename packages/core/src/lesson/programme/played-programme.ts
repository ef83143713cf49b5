import type { Meter } from '../../chart/index.ts';
import { TRIO_PLAYERS } from '../../performance/index.ts';
import type { Key } from '../../theory/index.ts';
import type { Trade } from './answers.ts';

/** A note to be sounded, as @fivespan/sound takes it. */
export interface ProgrammeEvent {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly midi: number;
  readonly velocity: number;
  /** Index into the players. */
  readonly player: number;
}

/** Who is heard in a programme: the trio, and a metronome beside it. */
export const HEARD_PLAYERS = [...TRIO_PLAYERS, 'metronome'] as const;
export type HeardPlayer = (typeof HEARD_PLAYERS)[number];

/** One who is heard, with an instrument. Sticks and brushes are two, so that a ladder of tempi can change. */
export interface ProgrammePlayer {
  readonly name: string;
  readonly plays: HeardPlayer;
  readonly instrument: 'grand' | 'acoustic bass' | 'jazz kit' | 'brush kit';
  /** −1 left to 1 right. */
  readonly pan: number;
  /** Linear. */
  readonly level: number;
}

/** A stretch at one tempo: a count-in, a chorus, a rest after one, or the ending. Segments follow each other without gaps. */
export interface ProgrammeSegment {
  readonly kind: 'count-in' | 'chorus' | 'rest' | 'ending';
  readonly startSeconds: number;
  readonly durationTicks: number;
  /** Bars from the segment's start, for a writer of bar lines. */
  readonly bars: readonly { readonly startTicks: number; readonly meter: Meter }[];
  readonly tempoBpm: number;
  readonly meter: Meter;
  readonly key: Key;
  /** Which time through in this key and tempo, from 1; 0 for all but choruses. */
  readonly time: number;
  /** Whose turn it is where the demonstration leaves time to answer; empty elsewhere. */
  readonly trades: readonly Trade[];
}

/** Everything a programme sounds like: a schedule for @fivespan/sound, with its segments. */
export interface PlayedProgramme {
  readonly players: readonly ProgrammePlayer[];
  /** In order of time. */
  readonly events: readonly ProgrammeEvent[];
  readonly segments: readonly ProgrammeSegment[];
  /** Where the last bar ends; notes may ring on. */
  readonly endSeconds: number;
}
