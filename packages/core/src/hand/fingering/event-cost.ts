import type { Midi } from '../../theory/index.ts';
import { isBlack } from '../keyboard.ts';
import { FINGERS, type Finger } from '../position.ts';
import type { FingeringRule } from './model.ts';
import {
  changeCount,
  changeSize,
  fiveOnBlack,
  fourOnBlack,
  isPractical,
  largeSpan,
  smallSpan,
  stretch,
  thumbOnBlack,
  thumbPassing,
  threeFourFive,
  threeToFour,
  weakFinger,
  type FingeredKey,
  type Ruling,
} from './rules.ts';

/** Keys struck together, ascending; one key in a melody. */
export type Strike = readonly Midi[];

/** A strike with a finger on each key. */
export type FingeredStrike = readonly FingeredKey[];

/**
 * Collects what is charged. `practical` counts what the model calls impossible to play legato (or, inside a chord, at
 * once); it outweighs every cost.
 */
export interface Charge {
  add(rule: FingeringRule, cost: number): void;
  beyondPractical(): void;
}

/** How the rules for two notes are applied to chords: the dearest pair of notes decides. Ours; one pair in a melody. */
function dearest(
  before: FingeredStrike,
  after: FingeredStrike,
  cost: (a: FingeredKey, b: FingeredKey) => number,
): number {
  let most = 0;
  for (const a of before) {
    for (const b of after) {
      const each = cost(a, b);
      if (each > most) most = each;
    }
  }
  return most;
}

function hasWhite(strike: Strike | undefined): boolean {
  return strike !== undefined && strike.some((key) => !isBlack(key));
}

/**
 * Charges a strike for itself: weak fingers, thumb and little finger on black keys beside white ones, and inside a chord
 * the spans of each two notes, doubled (so Balliauw et al. 2017, from memory; the other models know no chords).
 */
export function chargeStrike(
  ruling: Ruling,
  strike: FingeredStrike,
  before: Strike | undefined,
  after: Strike | undefined,
  charge: Charge,
): void {
  const whites = (hasWhite(before) ? 1 : 0) + (hasWhite(after) ? 1 : 0);
  for (const [index, at] of strike.entries()) {
    charge.add('weak finger', weakFinger(ruling, at));
    charge.add('thumb on black', thumbOnBlack(ruling, at, whites));
    charge.add('five on black', fiveOnBlack(ruling, at, whites));
    for (const higher of strike.slice(index + 1)) {
      charge.add('stretch', 2 * stretch(ruling, at, higher));
      charge.add('small span', 2 * smallSpan(ruling, at, higher));
      charge.add('large span', 2 * largeSpan(ruling, at, higher));
      if (!isPractical(ruling, at, higher)) charge.beyondPractical();
    }
  }
}

/** Charges the way from one strike to the next. Only single notes are tied to each other: where a chord begins or ends, the hand lifts. */
export function chargePair(ruling: Ruling, a: FingeredStrike, b: FingeredStrike, charge: Charge): void {
  charge.add(
    'stretch',
    dearest(a, b, (from, to) => stretch(ruling, from, to)),
  );
  charge.add(
    'small span',
    dearest(a, b, (from, to) => smallSpan(ruling, from, to)),
  );
  charge.add(
    'large span',
    dearest(a, b, (from, to) => largeSpan(ruling, from, to)),
  );
  const [from] = a;
  const [to] = b;
  if (a.length > 1 || b.length > 1 || from === undefined || to === undefined) return;
  charge.add('three to four', threeToFour(ruling, from, to));
  charge.add('four on black', fourOnBlack(ruling, from, to));
  charge.add('thumb passing', thumbPassing(ruling, from, to));
  if (!isPractical(ruling, from, to)) charge.beyondPractical();
}

/** Charges three strikes in a row. Of chords the dearest pair of outer notes decides; rule 7 and the thumb's turn need single notes. */
export function chargeTriple(
  ruling: Ruling,
  a: FingeredStrike,
  b: FingeredStrike,
  c: FingeredStrike,
  charge: Charge,
): void {
  const [middle] = b;
  if (middle === undefined) return;
  charge.add(
    'position change count',
    dearest(a, c, (first, third) => changeCount(ruling, first, b.length === 1 ? middle : first, third)),
  );
  charge.add(
    'position change size',
    dearest(a, c, (first, third) => changeSize(ruling, first, third)),
  );
  if (a.length === 1 && b.length === 1 && c.length === 1) {
    const [first] = a as [FingeredKey];
    const [third] = c as [FingeredKey];
    charge.add('three-four-five', threeFourFive(ruling, first.finger, middle.finger, third.finger));
  }
}

const choicesBySize: readonly (readonly (readonly Finger[])[])[] = [0, 1, 2, 3, 4, 5].map((size) => choose(size, 1));

/** All ways to choose so many fingers from this one on, each ascending, in alphabetical order. */
function choose(size: number, from: number): Finger[][] {
  if (size === 0) return [[]];
  return FINGERS.filter((finger) => finger >= from).flatMap((finger) =>
    choose(size - 1, finger + 1).map((rest) => [finger, ...rest]),
  );
}

/**
 * The ways a hand can take a strike: fingers never cross inside a chord, so they ascend with the keys in the right hand
 * and descend in the left. In the order of the fingers, lowest key first.
 */
export function fingersFor(strike: Strike, side: Ruling['side']): readonly (readonly Finger[])[] {
  const ascending = choicesBySize[strike.length] ?? [];
  return side === 'right' ? ascending : ascending.map((each) => [...each].reverse()).sort(compareFingers);
}

function compareFingers(a: readonly Finger[], b: readonly Finger[]): number {
  for (const [index, each] of a.entries()) if (each !== b[index]) return each - (b[index] as Finger);
  return 0;
}
