import type { ChordScale } from '../analysis/index.ts';
import type { Family, HandSize, Position } from '../hand/index.ts';
import { guideTonesOf, noteAbove, setOfNotes } from '../theory/index.ts';
import { handFit } from './hand-fit.ts';
import type { PlannedSlot, PlanPins } from './plan.ts';
import { familyFinder, positionsInReach } from './serving-family.ts';

/** A family that a free hand may go to over a chord. */
export interface AllowedFamily {
  /** The plan's own, or the one a teacher allows besides. */
  readonly which: 'first' | 'second';
  readonly chordScale: ChordScale;
  readonly family: Family;
  /** Its positions that the hand reaches, in the family's order; all of them where it reaches none. */
  readonly positions: readonly Position[];
}

const isSameFamily = (a: Family, b: Family): boolean =>
  a.shape.id === b.shape.id &&
  a.positions.length === b.positions.length &&
  a.positions.every(({ set }) => b.positions.some((each) => each.set === set));

/**
 * Finds the families that the slots of one plan allow; what was found is remembered, so that it asks twice for nothing.
 * @returns for a slot its families, the plan's own first: none where nothing is to be played; a second one where the teacher allows
 * one, the ladder has it and it is another than the first
 * @example allowedFamilies(choices.pins.plan, 'medium')(plan.slots[0]!).map(({ positions }) => positions.length) // → [3]
 */
export function allowedFamilies(pins: PlanPins, hand: HandSize): (slot: PlannedSlot) => readonly AllowedFamily[] {
  const fit = handFit(hand);
  const families = familyFinder(fit);
  return ({ analysed, chordScale, family }) => {
    const { chord, played, chordScales } = analysed;
    if (chord === null || chordScale === null || family === null) return [];
    const allowed = (which: AllowedFamily['which'], scale: ChordScale, of: Family): AllowedFamily => ({
      which,
      chordScale: scale,
      family: of,
      positions: positionsInReach(of, fit),
    });
    const first = allowed('first', chordScale, family);
    const pin = pins.secondScales.findLast(
      (each) => each.slot === played.slot.id && each.pass === played.playedBar.pass,
    );
    const scale = chordScales.find(({ id }) => id === pin?.chordScale);
    if (scale === undefined) return [first];
    const guideTones = setOfNotes(guideTonesOf(chord).map((each) => noteAbove(chord.root, each)));
    const second = families.find(scale, guideTones);
    return second === null || isSameFamily(second, family) ? [first] : [first, allowed('second', scale, second)];
  };
}
