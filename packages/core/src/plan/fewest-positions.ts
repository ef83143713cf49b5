import { positionMasks, type Shape } from '../hand/index.ts';
import type { PitchClassSet } from '../theory/index.ts';

/** A position of a shape by the pitch class of its thumb, as one number: shape × 12 + thumb. */
export type PlaceIndex = number;

/** The ways in which one chord can be met: any of these sets of positions will do. Ascending indices. */
export type WaysToMeet = readonly (readonly PlaceIndex[])[];

/**
 * The sets of a shape's positions that together hold the whole set and of which none can be left out; the fewest first.
 * @param shapeIndex goes into the place indices.
 */
export function coveringWays(shape: Shape, shapeIndex: number, set: PitchClassSet): WaysToMeet {
  const masks = positionMasks(shape);
  const thumbs = [...masks.keys()].filter((thumb) => ((masks[thumb] as number) & ~set) === 0);
  const ways: number[][] = [];
  const choose = (from: number, taken: readonly number[], held: number): void => {
    if (held === set) {
      const isIrredundant = taken.every(
        (out) => taken.reduce((union, each) => (each === out ? union : union | (masks[each] as number)), 0) !== set,
      );
      if (isIrredundant) ways.push(taken.map((thumb) => shapeIndex * 12 + thumb));
      return;
    }
    for (let index = from; index < thumbs.length; index++) {
      const thumb = thumbs[index] as number;
      const mask = masks[thumb] as number;
      if ((mask & ~held) !== 0) choose(index + 1, [...taken, thumb], held | mask);
    }
  };
  choose(0, [], 0);
  return ways.sort((a, b) => a.length - b.length);
}

export interface FewestPlaces {
  readonly places: readonly PlaceIndex[];
  readonly nodes: number;
}

/**
 * The fewest positions with which every chord is met: exact, one way a chord, branch and bound on the number of positions so
 * far. Chords with the fewest ways come first.
 */
export function fewestPlaces(chords: readonly WaysToMeet[]): FewestPlaces {
  const distinct = new Map(chords.map((ways) => [JSON.stringify(ways), ways]));
  const ordered = [...distinct.values()].sort((a, b) => a.length - b.length);
  let best: readonly number[] | undefined;
  let nodes = 0;
  const descend = (index: number, taken: readonly number[]): void => {
    nodes++;
    if (best !== undefined && taken.length >= best.length) return;
    const ways = ordered[index];
    if (ways === undefined) {
      best = taken;
      return;
    }
    const extensions = ways
      .map((way) => way.filter((place) => !taken.includes(place)))
      .sort((a, b) => a.length - b.length);
    for (const added of extensions) {
      descend(index + 1, [...taken, ...added]);
      // nothing to add is never worse than adding
      if (added.length === 0) break;
    }
  };
  descend(0, []);
  return { places: [...(best ?? [])].sort((a, b) => a - b), nodes };
}
