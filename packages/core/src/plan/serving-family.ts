import {
  coverOf,
  familyIn,
  positionMasks,
  thumbsIn,
  USUAL_SHAPES,
  classOfShape,
  type Family,
  type Shape,
} from '../hand/index.ts';
import { pitchClassOf, sizeOf, type NoteName, type PitchClass, type PitchClassSet } from '../theory/index.ts';
import type { HandFit } from './hand-fit.ts';
import { CLASSES_BY_SOUND, compareKindness, kindnessOf } from './shape-order.ts';

/** How many of these pitch classes some position of the shape inside the set holds at most. */
function mostHeld(shape: Shape, set: PitchClassSet, wanted: PitchClassSet): number {
  let most = -1;
  for (const mask of positionMasks(shape)) {
    if ((mask & ~set) === 0) most = Math.max(most, sizeOf((mask & wanted) as PitchClassSet));
  }
  return most;
}

/** The rotation of a class that lies best under the hand inside the set; ties: the one that leads the class. */
function kindestIn(rotations: readonly Shape[], set: PitchClassSet, fit: HandFit): Shape | undefined {
  const [best] = rotations
    .filter((shape) => fit.thumbsIn(shape, set) !== 0)
    .map((shape) => ({ shape, kindness: kindnessOf(shape, [thumbsIn(shape, set)], fit) }))
    .sort((a, b) => compareKindness(a.kindness, b.kindness));
  return best?.shape;
}

/** Whether every position of the shape inside the set lies easily under the hand. */
function liesEasily(shape: Shape, set: PitchClassSet, fit: HandFit): boolean {
  const { outOfReach, nearLimit } = kindnessOf(shape, [thumbsIn(shape, set)], fit);
  return outOfReach + nearLimit === 0;
}

/**
 * The shape for a chord-scale: the usual one that covers it; else of all five-note shapes one that covers it; else one that
 * serves (a position holds both guide tones); else the one that holds most of them. Where the hand cannot lie easily on
 * the shape, the kindest of its rotations. Among equals the order of the shape search.
 * @returns undefined where no shape within reach has a position in the set.
 */
function shapeFor(set: PitchClassSet, guideTones: PitchClassSet, fit: HandFit): Shape | undefined {
  const usual = USUAL_SHAPES.find((shape) => coverOf(shape, set) === set);
  if (usual !== undefined && liesEasily(usual, set, fit)) return usual;
  const usualClass = usual === undefined ? [] : [classOfShape(usual)];
  const wanted = (guideTones & set) as PitchClassSet;
  const ranked = [...usualClass, ...CLASSES_BY_SOUND]
    .map((each) => {
      const shape = kindestIn(each.rotations, set, fit);
      const covers = shape !== undefined && coverOf(shape, set) === set;
      return { shape, covers, held: shape === undefined ? -1 : mostHeld(shape, set, wanted) };
    })
    .filter((each) => each.shape !== undefined);
  const covering = ranked.find((each) => each.covers);
  if (covering !== undefined) return covering.shape;
  return ranked.reduce<(typeof ranked)[number] | undefined>(
    (best, each) => (best === undefined || each.held > best.held ? each : best),
    undefined,
  )?.shape;
}

/** Families found during one planning, so that a chord-scale that comes back is looked at once. */
export interface FamilyFinder {
  /** The family for a chord-scale over a chord with these guide tones; null where no shape serves at all. */
  find(notes: readonly NoteName[], set: PitchClassSet, guideTones: PitchClassSet): Family | null;
  /** Whether one of the usual shapes covers the set. */
  isUsual(set: PitchClassSet): boolean;
}

export function familyFinder(fit: HandFit): FamilyFinder {
  const found = new Map<string, Family | null>();
  return {
    find: (notes, set, guideTones) => {
      const key = `${notes.join(' ')}/${guideTones & set}`;
      let family = found.get(key);
      if (family === undefined) {
        const shape = shapeFor(set, guideTones, fit);
        family = shape === undefined ? null : familyIn(shape, notes);
        found.set(key, family);
      }
      return family;
    },
    isUsual: (set) => USUAL_SHAPES.some((shape) => coverOf(shape, set) === set),
  };
}

/** A family's positions that the hand reaches. */
export function positionsInReach(family: Family, fit: HandFit): Family['positions'] {
  return family.positions.filter(
    (each) => fit.verdict(each.shape, pitchClassOf(each.thumb) satisfies PitchClass) !== 'out of reach',
  );
}
