import { formatNoteName, pitchClassOf, setOfNotes, type NoteName, type PitchClassSet } from '../theory/index.ts';
import { familyIn } from './family.ts';
import type { Family, Position, Shape } from './shape.ts';

/**
 * The fewest of these sets that together hold the whole: exact, smaller numbers tried first.
 * @returns their indices, ascending, the alphabetically first such choice; undefined where all together do not hold it.
 * @example fewestToCover([0b011, 0b111, 0b100], 0b111) // → [1]
 */
export function fewestToCover(parts: readonly PitchClassSet[], whole: PitchClassSet): readonly number[] | undefined {
  const union = parts.reduce((mask, each) => mask | each, 0);
  if ((whole & ~union) !== 0) return undefined;
  for (let size = 0; size <= parts.length; size++) {
    const found = choose(parts, whole, size, 0);
    if (found !== undefined) return found;
  }
  return undefined;
}

function choose(parts: readonly number[], missing: number, size: number, from: number): number[] | undefined {
  if (missing === 0) return size === 0 ? [] : undefined;
  if (size === 0) return undefined;
  for (let index = from; index <= parts.length - size; index++) {
    const rest = choose(parts, missing & ~(parts[index] as number), size - 1, index + 1);
    if (rest !== undefined) return [index, ...rest];
  }
  return undefined;
}

/**
 * The fewest positions of a complete family that together hold its whole chord-scale, in the family's order.
 * @returns undefined where the family is not complete.
 */
export function fewestPositions(family: Family): readonly Position[] | undefined {
  if (!family.complete) return undefined;
  const masks = family.positions.map((each) => each.set);
  const whole = masks.reduce((mask, each) => mask | each, 0) as PitchClassSet;
  return fewestToCover(masks, whole)?.map((index) => family.positions[index] as Position);
}

/** The families of these shapes inside a chord-scale, complete or not; shapes without a position are left out. */
export function familiesIn(
  shapes: readonly Shape[],
  notes: readonly NoteName[],
  kept: readonly NoteName[] = [],
): Family[] {
  return shapes.map((shape) => familyIn(shape, notes, kept)).filter((family) => family.positions.length > 0);
}

/** Those of the given (avoid) notes that a position holds, spelled as given. */
export function notesHeld(position: Position, notes: readonly NoteName[]): NoteName[] {
  return notes.filter((note) => (position.set & (1 << pitchClassOf(note))) !== 0);
}

/** Whether a position holds all these notes, such as a chord's guide tones. */
export function holdsAll(position: Position, notes: readonly NoteName[]): boolean {
  return (setOfNotes(notes) & ~position.set) === 0;
}

/** A position in words: thumb and shape, `D minor pentatonic`. */
export function nameOfPosition(position: Position): string {
  return `${formatNoteName(position.thumb)} ${position.shape.name}`;
}
