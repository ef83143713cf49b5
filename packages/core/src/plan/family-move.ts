import type { Family, Position } from '../hand/index.ts';
import { modulo, pitchClassOf, type PitchClassSet } from '../theory/index.ts';

/** How the hand gets from one family to the next. */
export interface FamilyMove {
  /**
   * By how many semitones up (0 to 11) all thumbs move; the smallest where a ring allows several; null where the families are
   * not transpositions of one another, or have other shapes.
   */
  readonly semitones: number | null;
  /** Positions of the second family that were in the first: the hand may stay. */
  readonly kept: readonly Position[];
  /** Positions that are new in the second. */
  readonly entered: readonly Position[];
}

function thumbsOf(family: Family): readonly number[] {
  return family.positions.map((each) => pitchClassOf(each.thumb)).sort((a, b) => a - b);
}

/**
 * The move from one family to the next as one interval, and what stays.
 * For example from G D A minor pentatonic (F Ionian) to D A E (F Lydian) → 7 semitones up, D and A kept, E new
 */
export function familyMove(from: Family, to: Family): FamilyMove {
  const sets = new Set<PitchClassSet>(from.positions.map((each) => each.set));
  const isKept = (position: Position): boolean => from.shape.id === to.shape.id && sets.has(position.set);
  const goal = thumbsOf(to).join(' ');
  const thumbs = thumbsOf(from);
  const moves = Array.from({ length: 12 }, (_, semitones) => semitones).filter(
    (semitones) =>
      thumbs
        .map((each) => modulo(each + semitones, 12))
        .sort((a, b) => a - b)
        .join(' ') === goal,
  );
  const isMoved = from.shape.id === to.shape.id && thumbs.length > 0;
  return {
    semitones: isMoved ? (moves[0] ?? null) : null,
    kept: to.positions.filter(isKept),
    entered: to.positions.filter((each) => !isKept(each)),
  };
}
