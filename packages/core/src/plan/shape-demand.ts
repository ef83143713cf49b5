import type { Analysis, ChordScale } from '../analysis/index.ts';
import { guideTonesOf, noteAbove, setOfNotes, type PitchClassSet } from '../theory/index.ts';
import { pinsOf } from './pinned.ts';
import { NO_PLAN_PINS, type PlanPins } from './plan.ts';

/** What shapes are asked to do at one chord. */
export interface ShapeDemand {
  /** Index of the played slot. */
  readonly slotIndex: number;
  /** Any of these will do, the first that a shape covers is used. Never empty. */
  readonly chordScales: readonly ChordScale[];
  readonly guideTones: PitchClassSet;
}

/**
 * What a chart asks of the shapes: for every chord its chord-scale in use, the first rung or the pinned one.
 * @param slots indices of the slots asked about: a cadence's, one chord's; all where absent.
 */
export function shapeDemands(
  analysis: Analysis,
  slots: readonly number[] = [...analysis.slots.keys()],
  pins: PlanPins = NO_PLAN_PINS,
): readonly ShapeDemand[] {
  return slots.flatMap((slotIndex): ShapeDemand[] => {
    const slot = analysis.slots[slotIndex];
    if (slot === undefined) throw new RangeError(`slots must be indices of played slots, not ${slotIndex}`);
    const { chord } = slot;
    const chordScale = pinsOf(slot, pins).chordScale ?? slot.chordScales[0];
    if (chord === null || chordScale === undefined) return [];
    const guideTones = setOfNotes(guideTonesOf(chord).map((each) => noteAbove(chord.root, each)));
    return [{ slotIndex, chordScales: [chordScale], guideTones }];
  });
}
