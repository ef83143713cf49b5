import { reachOf, thumbsIn, type HandSize, type ReachVerdict, type Shape } from '../hand/index.ts';
import type { PitchClass, PitchClassSet } from '../theory/index.ts';

/** What one hand reaches, looked up once for each shape and thumb. */
export interface HandFit {
  readonly hand: HandSize;
  verdict(shape: Shape, thumb: PitchClass): ReachVerdict;
  /** The thumbs of a shape inside a set that the hand reaches, as a mask. */
  thumbsIn(shape: Shape, set: PitchClassSet): PitchClassSet;
}

/** Remembers a hand's verdicts for as long as one search lasts. */
export function handFit(hand: HandSize): HandFit {
  const known = new Map<string, (ReachVerdict | undefined)[]>();
  const verdict = (shape: Shape, thumb: PitchClass): ReachVerdict => {
    let verdicts = known.get(shape.id);
    if (verdicts === undefined) {
      verdicts = [];
      known.set(shape.id, verdicts);
    }
    return (verdicts[thumb] ??= reachOf(shape, thumb, hand).verdict);
  };
  return {
    hand,
    verdict,
    thumbsIn: (shape, set) => {
      const all = thumbsIn(shape, set);
      let mask = 0;
      for (let thumb = 0; thumb < 12; thumb++) {
        if ((all & (1 << thumb)) !== 0 && verdict(shape, thumb as PitchClass) !== 'out of reach') mask |= 1 << thumb;
      }
      return mask as PitchClassSet;
    },
  };
}
