import type { BasicSample } from 'spessasynth_core';
import type { Bank } from './bank.ts';
import { instrumentOf, type InstrumentId } from './instrument.ts';

/**
 * The recordings that an instrument plays, each once. Two openings of one bank give them in the same order: what one has decoded
 * (`getAudioData`) can be given to the other (`setAudioData`), which then never decodes.
 */
export function recordingsOf({ soundBank }: Bank, id: InstrumentId): readonly BasicSample[] {
  const { program, isKit } = instrumentOf(id);
  const preset = soundBank.presets.find((each) => each.isGMGSDrum === isKit && each.program === program);
  const instruments = preset?.zones.map(({ instrument }) => instrument) ?? [];
  return [...new Set(instruments.flatMap(({ zones }) => zones.map(({ sample }) => sample)))];
}
