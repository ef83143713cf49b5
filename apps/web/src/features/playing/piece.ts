import type { ProgrammePlayer, ProgrammeSegment } from '@fivespan/core';
import type { FormView } from './form-view.ts';

/** A programme made ready to be played: all that is shown of it. Its notes stay with the worker. */
export interface Piece {
  readonly number: number;
  readonly players: readonly ProgrammePlayer[];
  readonly segments: readonly ProgrammeSegment[];
  readonly endSeconds: number;
  /** One for each segment: the form in its key. */
  readonly forms: readonly FormView[];
}

/** A bar of a chorus: `chorus` counts the programme's rows from 0, `bar` the form's bars from 0. */
export interface BarPlace {
  readonly chorus: number;
  readonly bar: number;
}

/** Seconds of one beat of a segment, as written: before the player changes the tempo. */
export function beatSecondsOf({ tempoBpm }: ProgrammeSegment): number {
  return 60 / tempoBpm;
}

/** The segments that are choruses, in order: one for each row of the programme. */
export function chorusSegments({ segments }: Piece): number[] {
  return segments.flatMap(({ kind }, index) => (kind === 'chorus' ? [index] : []));
}
