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
  /** Written by the teacher; left out where it is composed. */
  readonly own?: true;
}

/** How the bass moves: two notes a bar or a note a beat, the straight eighths of an even feel, a ballad's or a waltz's way. */
export const BASS_FEELS = ['two', 'four', 'even', 'ballad', 'waltz'] as const;
export type BassFeel = (typeof BASS_FEELS)[number];

/** Who plays it: a pianist's left hand, or a double bass. */
export const BASS_RANGES = ['left hand', 'double bass'] as const;
export type BassRange = (typeof BASS_RANGES)[number];

/** What a teacher chooses of the bass beside its level; a feel of null is the chart's own. */
export interface BassChoice {
  readonly feel: BassFeel | null;
  readonly range: BassRange;
}

/** A walking-bass note. */
export interface BassNote extends PartNote {
  readonly function:
    | 'root'
    // the note after the slash
    | 'bass'
    | 'fifth'
    | 'third'
    | 'seventh'
    | 'scale'
    | 'enclosure'
    | 'approach'
    | 'pedal'
    | 'skip'
    | 'drop';
}

/** A right-hand note with its finger in a position. */
export interface HandNote extends PartNote {
  /** 1 (thumb) to 5. */
  readonly finger: 1 | 2 | 3 | 4 | 5;
  readonly position: Position;
}
