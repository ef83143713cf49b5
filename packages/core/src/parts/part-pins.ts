import type { VoicingPin } from './voicings/index.ts';

/** What a teacher may fix in the parts, in the chart as written. */
export interface PartPins {
  readonly voicings: readonly VoicingPin[];
}

export const NO_PART_PINS: PartPins = { voicings: [] };
