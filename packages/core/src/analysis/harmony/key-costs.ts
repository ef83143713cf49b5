import type { FunctionMode } from './harmonic-function.ts';

/** Keys without spelling: 0 to 11 major from C up, 12 to 23 minor; 24 to 35 a blues on C and up, as a home only. */
export const REGION_KEY_COUNT = 24;
export const HOME_COUNT = 36;

export function modeOfKeyIndex(key: number): FunctionMode {
  return key < 12 ? 'major' : key < 24 ? 'minor' : 'blues';
}

/** What leaving, staying and coming home cost. All integers; docs/analysis.md says how they were set. */
export interface KeyCosts {
  /** A change of key. */
  readonly change: number;
  /** More, for each step between the two keys' signatures on the circle of fifths, at most three counted. */
  readonly changeStep: number;
  /** More, where the change falls inside a cadence: between a ii and its V, or a dominant and its goal. */
  readonly changeInside: number;
  /** Each unit of weight away from the home key. */
  readonly away: number;
  /** Not beginning in the home key. */
  readonly startAway: number;
  /** Not ending in the home key. */
  readonly endAway: number;
  /** Not beginning on the home key's I. */
  readonly startNotTonic: number;
  /** The last goal that a dominant comes home to being another root than the home key's. */
  readonly finalGoal: number;
  /** Where no dominant comes home: the goal that is asked for being another root than the home key's. */
  readonly impliedGoal: number;
  /** The last two bars holding no I of the home key … */
  readonly endNotTonic: number;
  /** The form coming to rest on another chord than the home key's I. */
  readonly endAtOtherRest: number;
  /** … but ending on its V or the substitute of it, which lead back to the top. */
  readonly endOnDominant: number;
  /** … but the I of the parallel key. */
  readonly endOnOtherMode: number;
  /** A form without a cadence not beginning on the home key's I: a vamp, a run of one kind of chord. */
  readonly notTheVamp: number;
  /** The home key's I not sounding anywhere. */
  readonly tonicMissing: number;
  /** Taking the tune for a blues. */
  readonly blues: number;
  /** What a dominant gives back when its I comes. */
  readonly cadence: number;
  /** What a predominant gives back when its dominant comes. */
  readonly preparation: number;
}

export const KEY_COSTS: KeyCosts = {
  change: 9,
  changeStep: 1,
  changeInside: 5,
  away: 1,
  startAway: 6,
  endAway: 12,
  startNotTonic: 28,
  finalGoal: 16,
  impliedGoal: 48,
  endNotTonic: 28,
  endAtOtherRest: 44,
  endOnDominant: 8,
  endOnOtherMode: 24,
  notTheVamp: 60,
  tonicMissing: 24,
  blues: 8,
  cadence: 3,
  preparation: 1,
};

/** Signatures further apart than this cost no more. */
export const MOST_STEPS = 3;

/** A key's place on the circle of fifths by its signature, 0 to 11. */
export function signaturePlace(key: number): number {
  return ((modeOfKeyIndex(key) === 'minor' ? key + 3 : key) * 7) % 12;
}

/** Cost of going from one key to another. */
export function changeCost(from: number, to: number, costs: KeyCosts): number {
  if (from % REGION_KEY_COUNT === to % REGION_KEY_COUNT) return 0;
  const apart = Math.abs(signaturePlace(from) - signaturePlace(to));
  return costs.change + costs.changeStep * Math.min(apart, 12 - apart, MOST_STEPS);
}
