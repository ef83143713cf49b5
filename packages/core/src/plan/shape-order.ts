import {
  classOfShape,
  positionMasks,
  SHAPE_CLASSES,
  thumbsIn,
  USUAL_SHAPES,
  type Shape,
  type ShapeClass,
} from '../hand/index.ts';
import { modulo, sizeOf, transposeSet, type PitchClass, type PitchClassSet } from '../theory/index.ts';
import type { HandFit } from './hand-fit.ts';

/** How many of the class's neighbouring notes, round the octave, lie a minor third or more apart: leaps a line can take. */
export function leapsOf(shapeClass: ShapeClass): number {
  const { steps } = shapeClass;
  return steps.filter((step, index) => modulo((steps[(index + 1) % 5] as number) - step, 12) >= 3).length;
}

/** The classes of the usual shapes; they win ties, because every lesson looks at them first. */
const USUAL_CLASSES: readonly ShapeClass[] = USUAL_SHAPES.map(classOfShape);

/** How well a class is known: the usual ones, those with a trade name, the others. */
function rankByName(shapeClass: ShapeClass): number {
  if (USUAL_CLASSES.includes(shapeClass)) return 0;
  return shapeClass.name === shapeClass.forte ? 2 : 1;
}

/** All 66 classes, the best known first, then in Forte's order: what decides between equals. */
export const CLASSES_BY_NAME: readonly ShapeClass[] = [...SHAPE_CLASSES].sort(
  (a, b) => rankByName(a) - rankByName(b) || SHAPE_CLASSES.indexOf(a) - SHAPE_CLASSES.indexOf(b),
);

/** How a rotation lies under the hand: smaller is kinder, the first difference decides. */
export interface Kindness {
  /** Positions out of the hand's reach, near its limit. */
  readonly outOfReach: number;
  readonly nearLimit: number;
  readonly blackThumbs: number;
}

/**
 * How kind a shape is at these thumbs.
 * @param thumbs masks of pitch classes, one for each key looked at.
 */
export function kindnessOf(shape: Shape, thumbs: readonly PitchClassSet[], fit: HandFit): Kindness {
  let [outOfReach, nearLimit, blackThumbs] = [0, 0, 0];
  for (const mask of thumbs) {
    for (let thumb = 0; thumb < 12; thumb++) {
      if ((mask & (1 << thumb)) === 0) continue;
      const verdict = fit.verdict(shape, thumb as PitchClass);
      if (verdict === 'out of reach') outOfReach++;
      if (verdict === 'near the limit') nearLimit++;
    }
    blackThumbs += sizeOf((mask & 0b010101001010) as PitchClassSet);
  }
  return { outOfReach, nearLimit, blackThumbs };
}

export function compareKindness(a: Kindness, b: Kindness): number {
  return a.outOfReach - b.outOfReach || a.nearLimit - b.nearLimit || a.blackThumbs - b.blackThumbs;
}

/** How kind a shape is at these thumbs, moved through all twelve keys. */
export function kindnessInAllKeys(shape: Shape, thumbs: PitchClassSet, fit: HandFit): Kindness {
  const keys = Array.from({ length: 12 }, (_, up) => transposeSet(thumbs, up));
  return kindnessOf(shape, keys, fit);
}

/**
 * The rotation of a class that lies best under the hand at all its places inside the sets: in all twelve keys, or in the key
 * as it stands. Ties: the one that leads the class.
 */
export function kindestRotation(
  rotations: ShapeClass['rotations'],
  sets: readonly PitchClassSet[],
  keys: 'all' | 'this',
  fit: HandFit,
): { readonly shape: Shape; readonly kindness: Kindness } {
  const [first, ...others] = rotations.map((shape) => {
    const thumbs = sets.reduce((mask, set) => mask | thumbsIn(shape, set), 0) as PitchClassSet;
    const kindness = keys === 'all' ? kindnessInAllKeys(shape, thumbs, fit) : kindnessOf(shape, [thumbs], fit);
    return { shape, kindness };
  });
  return others.reduce(
    (best, each) => (compareKindness(each.kindness, best.kindness) < 0 ? each : best),
    first as { shape: Shape; kindness: Kindness },
  );
}

/** The thumbs of a shape whose positions lie in the set and hold all of `needed`, as a mask. */
export function thumbsHolding(shape: Shape, set: PitchClassSet, needed: PitchClassSet): PitchClassSet {
  let thumbs = 0;
  for (const [thumb, mask] of positionMasks(shape).entries()) {
    if ((mask & ~set) === 0 && (needed & ~mask) === 0) thumbs |= 1 << thumb;
  }
  return thumbs as PitchClassSet;
}
