import type { Pitch } from '../theory/index.ts';
import type { Position } from '../hand/index.ts';
import type { Reason } from '../analysis/index.ts';

/** A note of a part. Ticks count from the first full bar. */
export interface PartNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly pitch: Pitch;
  /** Index of the played slot it belongs to (an anticipation belongs to the coming one). */
  readonly slotIndex: number;
  readonly why: Reason;
}

/** A walking-bass note. */
export interface BassNote extends PartNote {
  readonly function: 'root' | 'bass' | 'fifth' | 'third' | 'seventh' | 'scale' | 'approach';
}

/** A right-hand note with its finger in a position. */
export interface HandNote extends PartNote {
  /** 1 (thumb) to 5. */
  readonly finger: 1 | 2 | 3 | 4 | 5;
  readonly position: Position;
}
