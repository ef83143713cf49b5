import type { PartStaff } from '../parts/index.ts';
import type { Midi } from '../theory/index.ts';

/** A played note. */
export interface PlayedNote {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly midi: Midi;
  /** 1 to 127. */
  readonly velocity: number;
  /** What was written, in ticks from the first full bar. */
  readonly writtenStartTicks: number;
}

/** One player's notes, in time order. */
export interface PlayedPart {
  readonly player: PartStaff;
  readonly notes: readonly PlayedNote[];
}

/** The played music. Time 0 is the start of the first bar, the pickup where there is one. */
export interface Performance {
  readonly parts: readonly PlayedPart[];
  readonly endSeconds: number;
}
