import type { NotePin } from './own/index.ts';
import type { VoicingPin } from './voicings/index.ts';

/** What a teacher may fix in the parts, in the chart as written. */
export interface PartPins {
  readonly voicings: readonly VoicingPin[];
  /** The teacher's own notes. */
  readonly notes: readonly NotePin[];
}

export const NO_PART_PINS: PartPins = { voicings: [], notes: [] };
