import type { MotivePin } from './chorus/index.ts';
import type { NotePin } from './own/index.ts';
import type { VoicingPin } from './voicings/index.ts';

/** What a teacher may fix in the parts, in the chart as written. */
export interface PartPins {
  readonly voicings: readonly VoicingPin[];
  /** The teacher's own notes. */
  readonly notes: readonly NotePin[];
  /** Finger motives that the chorus is made of; its own where there are none. */
  readonly motives: readonly MotivePin[];
}

export const NO_PART_PINS: PartPins = { voicings: [], notes: [], motives: [] };
