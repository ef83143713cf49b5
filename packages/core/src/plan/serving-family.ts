import type { ChordScale } from '../analysis/index.ts';
import {
  BLUES_FIVE_FINGER,
  classOfShape,
  coverOf,
  familyIn,
  positionMasks,
  thumbsIn,
  USUAL_SHAPES,
  type Family,
  type Position,
  type Shape,
} from '../hand/index.ts';
import { pitchClassOf, sizeOf, type PitchClassSet } from '../theory/index.ts';
import type { HandFit } from './hand-fit.ts';
import { CLASSES_BY_NAME, kindnessInAllKeys, kindestRotation } from './shape-order.ts';
import { searchShapes } from './shape-search.ts';

/** How many of these pitch classes some position of the shape inside the set holds at most; −1 where it has none. */
function mostHeld(shape: Shape, set: PitchClassSet, wanted: PitchClassSet): number {
  const held = positionMasks(shape)
    .filter((mask) => (mask & ~set) === 0)
    .map((mask) => sizeOf((mask & wanted) as PitchClassSet));
  return Math.max(-1, ...held);
}

/** The shape that holds the most of the guide tones, where none holds all: the least bad. */
function leastBad(set: PitchClassSet, guideTones: PitchClassSet, fit: HandFit): Shape | undefined {
  let best: { readonly shape: Shape; readonly held: number } | undefined;
  for (const { rotations } of CLASSES_BY_NAME) {
    const held = mostHeld(rotations[0], set, guideTones);
    if (held < 0 || (best !== undefined && held <= best.held)) continue;
    best = { shape: kindestRotation(rotations, [set], 'all', fit).shape, held };
  }
  return best?.shape;
}

/** The first shape in this hand's reach in all keys that holds all the guide tones in some position: it serves, it need not cover. */
function servingInReach(set: PitchClassSet, guideTones: PitchClassSet, fit: HandFit): Shape | undefined {
  for (const { rotations } of CLASSES_BY_NAME) {
    if (mostHeld(rotations[0], set, guideTones) < sizeOf(guideTones)) continue;
    const { shape, kindness } = kindestRotation(rotations, [set], 'all', fit);
    if (kindness.outOfReach === 0) return shape;
  }
  return undefined;
}

/**
 * The shape for a chord-scale: the first usual one that covers it, in the rotation the hand lies on best where its own does not
 * lie easily; else the first answer of the shape search, which covers it or serves it; where that is out of reach, one in reach
 * that serves; else the least bad. The same in all
 * twelve keys.
 * @returns undefined where no shape has a position in the set.
 */
function shapeFor(chordScale: ChordScale, guideTones: PitchClassSet, fit: HandFit): Shape | undefined {
  const { set } = chordScale;
  const usual = USUAL_SHAPES.find((shape) => coverOf(shape, set) === set);
  if (usual !== undefined) {
    const { outOfReach, nearLimit } = kindnessInAllKeys(usual, thumbsIn(usual, set), fit);
    if (outOfReach + nearLimit === 0) return usual;
    const kindest = kindestRotation(classOfShape(usual).rotations, [set], 'all', fit);
    if (kindest.kindness.outOfReach === 0) return kindest.shape;
  }
  const demand = { slotIndex: 0, chordScales: [chordScale], guideTones };
  const [answer] = searchShapes([demand], { hand: fit.hand, keys: 'all', limit: 1 }).answers;
  const found = answer?.shapes[0]?.shape;
  if (answer !== undefined && found !== undefined && answer.kindness.outOfReach === 0) return found;
  // a hand too small for every shape that covers takes one that serves
  return servingInReach(set, guideTones, fit) ?? found ?? leastBad(set, guideTones, fit);
}

/**
 * The five fingers that hold a blues scale's flat fifth on its own root, F A♭ B♭ C♭ C: with the minor pentatonic on the same
 * thumb all of the scale. Common practice. None in other chord-scales.
 */
export function bluesFingersIn({ scale, notes, kept }: ChordScale): readonly Family[] {
  return scale.kind.family === 'blues' ? [familyIn(BLUES_FIVE_FINGER, notes, kept)] : [];
}

/** Families found during one planning, so that a chord-scale that comes back is looked at once. */
export interface FamilyFinder {
  /** The family for a chord-scale over a chord with these guide tones; null where no shape has a position in it. */
  find(chordScale: ChordScale, guideTones: PitchClassSet): Family | null;
  /** That family, and the other ones a hand takes in the same chord-scale: in a blues scale the five fingers with its flat fifth. */
  findAll(chordScale: ChordScale, guideTones: PitchClassSet): readonly Family[];
  /** Whether one of the usual shapes covers the set. */
  isUsual(set: PitchClassSet): boolean;
}

export function familyFinder(fit: HandFit): FamilyFinder {
  const found = new Map<string, Family | null>();
  const find = (chordScale: ChordScale, guideTones: PitchClassSet): Family | null => {
    const key = `${chordScale.notes.join(' ')}/${chordScale.kept.join(' ')}/${guideTones & chordScale.set}`;
    let family = found.get(key);
    if (family === undefined) {
      const shape = shapeFor(chordScale, guideTones, fit);
      family = shape === undefined ? null : familyIn(shape, chordScale.notes, chordScale.kept);
      found.set(key, family);
    }
    return family;
  };
  return {
    find,
    findAll: (chordScale, guideTones) => {
      const family = find(chordScale, guideTones);
      if (family === null) return [];
      return [family, ...bluesFingersIn(chordScale)];
    },
    isUsual: (set) => USUAL_SHAPES.some((shape) => coverOf(shape, set) === set),
  };
}

/** A family's positions that the hand reaches; all of them where it reaches none, so that the route still has its way. */
export function positionsInReach(family: Family, fit: HandFit): readonly Position[] {
  const within = family.positions.filter(
    (each) => fit.verdict(each.shape, pitchClassOf(each.thumb)) !== 'out of reach',
  );
  return within.length > 0 ? within : family.positions;
}
