import type { RandomSource } from '../../random.ts';

/** How one player wanders about what they mean. Whole numbers: microseconds, or hundredths of a velocity step. */
export interface DriftBounds {
  /** Never further than this, either way. */
  readonly farthest: number;
  /** The widest new push from one note to the next. */
  readonly push: number;
}

/** Gives the next deviation. */
export type Drift = () => number;

/** How much of a deviation is still there at the next note: seven tenths. Our own. */
const KEPT_TENTHS = 7;

/**
 * Deviations that hang together: each is seven tenths of the one before and a seeded push, as a player drags or rushes for a
 * while rather than jumping about (a first-order autoregression in whole numbers, the same on every machine).
 * @example const late = drift(randomSource(1, 'bass time'), { farthest: 9000, push: 5000 }); late()
 */
export function drift(random: RandomSource, { farthest, push }: DriftBounds): Drift {
  let at = 0;
  return () => {
    const next = Math.trunc((at * KEPT_TENTHS) / 10) + random.integer(2 * push + 1) - push;
    at = Math.max(-farthest, Math.min(farthest, next));
    return at;
  };
}
