import type { Analysis } from '../../analysis/index.ts';
import type { Issue } from '../../issue/index.ts';
import type { Plan } from '../../plan/index.ts';
import { pinnedVoicing, type PinnedKeys } from './lead-voicings.ts';
import type { OwnKeys } from './own-voicing.ts';
import type { VoicingKind } from './voicing-kind.ts';

/** A voicing that a teacher fixed: the keys of one slot, MIDI notes from the lowest up, in the chart as written. */
export interface VoicingPin {
  readonly slot: string;
  readonly pass: number;
  readonly keys: readonly number[];
  /** Where the keys are the teacher's own, whether or not the chord has such a voicing. */
  readonly own?: OwnKeys;
}

/** More keys than two hands have in any voicing. */
export const MOST_PINNED_KEYS = 10;

/** The pins by the form's slots; what names a slot the chart no longer has is left out. */
export function pinnedKeysOf(analysis: Analysis, pins: readonly VoicingPin[]): PinnedKeys[] {
  return pins.flatMap(({ slot, pass, keys, own }): PinnedKeys[] => {
    const slotIndex = analysis.slots.findIndex(
      ({ played }) => played.slot.id === slot && played.playedBar.pass === pass,
    );
    return slotIndex < 0 ? [] : [{ slotIndex, keys, ...(own === undefined ? {} : { own }) }];
  });
}

/** Pins of voicings that are passed over, as warnings: their slot is gone, or the chord there has no such voicing any more. */
export function voicingPinIssues(
  analysis: Analysis,
  plan: Plan,
  kind: VoicingKind,
  pins: readonly VoicingPin[],
): Issue[] {
  return pins.flatMap((pin): Issue[] => {
    const [found] = pinnedKeysOf(analysis, [pin]);
    const slot = analysis.slots[found?.slotIndex ?? -1];
    if (found === undefined || slot === undefined) {
      return [{ code: 'plan.pin-lost', args: { slot: pin.slot, pass: pin.pass }, place: {} }];
    }
    const played = plan.slots[found.slotIndex]?.chordScale ?? null;
    if (pinnedVoicing(slot, found, kind, played) !== undefined) return [];
    const { bar } = slot.played.playedBar;
    const chord = slot.played.slot.chord.symbol;
    return [{ code: 'parts.voicing-pin', args: { chord, pass: pin.pass }, place: { bar: bar.number } }];
  });
}
