import type { Midi } from '../../theory/index.ts';
import { isBlack } from '../keyboard.ts';
import type { Finger } from '../position.ts';
import type { FingeringModel, FingeringRule } from './model.ts';
import { spanOf } from './span-table.ts';

/** Which hand plays. The left mirrors the right: what rises for one falls for the other. */
export type HandSide = 'right' | 'left';

/** One finger on one key. */
export interface FingeredKey {
  readonly key: Midi;
  readonly finger: Finger;
}

/** Everything a rule needs to know apart from keys and fingers. */
export interface Ruling {
  readonly model: FingeringModel;
  readonly side: HandSide;
}

/**
 * How far the higher-numbered finger is outside the lower-numbered one, on the model's ruler, for this hand: negative
 * where they cross. For one finger on both keys, the way it moves.
 */
function reach({ model, side }: Ruling, a: FingeredKey, b: FingeredKey): number {
  const way = model.ruler(a.key, b.key);
  return a.finger > b.finger === (side === 'right') ? -way : way;
}

/** How far a reach is outside the comfortable span of the two fingers; 0 inside. */
function outsideComfort(ruling: Ruling, a: FingeredKey, b: FingeredKey): number {
  const span = spanOf(ruling.model.spans, a.finger, b.finger);
  const way = reach(ruling, a, b);
  if (way > span.maxComfortable) return way - span.maxComfortable;
  return way < span.minComfortable ? span.minComfortable - way : 0;
}

function hasThumb(a: FingeredKey, b: FingeredKey): boolean {
  return a.finger === 1 || b.finger === 1;
}

/**
 * Whether the two fingers can play one key after the other, legato: within the practical span; one finger only on one
 * key, one key only by one finger.
 */
export function isPractical(ruling: Ruling, a: FingeredKey, b: FingeredKey): boolean {
  if (a.finger === b.finger || a.key === b.key) return a.finger === b.finger && a.key === b.key;
  const span = spanOf(ruling.model.spans, a.finger, b.finger);
  const way = reach(ruling, a, b);
  return way >= span.minPractical && way <= span.maxPractical;
}

/** Rule 1: a reach outside the comfortable span. */
export function stretch(ruling: Ruling, a: FingeredKey, b: FingeredKey): number {
  return ruling.model.weights.stretch * outsideComfort(ruling, a, b);
}

/** Rule 2: a reach under the relaxed span. */
export function smallSpan(ruling: Ruling, a: FingeredKey, b: FingeredKey): number {
  if (a.finger === b.finger) return 0;
  const short = spanOf(ruling.model.spans, a.finger, b.finger).minRelaxed - reach(ruling, a, b);
  return short > 0 ? short * ruling.model.weights.smallSpan[hasThumb(a, b) ? 0 : 1] : 0;
}

/** Rule 3: a reach over the relaxed span; in the natural direction only, as the published totals require. */
export function largeSpan(ruling: Ruling, a: FingeredKey, b: FingeredKey): number {
  if (a.finger === b.finger) return 0;
  const over = reach(ruling, a, b) - spanOf(ruling.model.spans, a.finger, b.finger).maxRelaxed;
  return over > 0 ? over * ruling.model.weights.largeSpan[hasThumb(a, b) ? 0 : 1] : 0;
}

/** Rule 4: the hand changes its position between the first and the third note. */
export function changeCount(ruling: Ruling, first: FingeredKey, second: FingeredKey, third: FingeredKey): number {
  const { halfChange, fullChange, otherFingerOnSameKey } = ruling.model.weights;
  const same = first.key === third.key && first.finger !== third.finger ? otherFingerOnSameKey : 0;
  if (outsideComfort(ruling, first, third) === 0) return same;
  const span = spanOf(ruling.model.spans, first.finger, third.finger);
  const way = reach(ruling, first, third);
  const isFull =
    second.finger === 1 &&
    (way > span.maxPractical || way < span.minPractical) &&
    (second.key - first.key) * (third.key - second.key) > 0;
  return (isFull ? fullChange : halfChange) + same;
}

/** Rule 5: how far it changes. */
export function changeSize(ruling: Ruling, first: FingeredKey, third: FingeredKey): number {
  return ruling.model.weights.changeSize * outsideComfort(ruling, first, third);
}

/** Rule 6: a weak finger is used. */
export function weakFinger({ model }: Ruling, at: FingeredKey): number {
  return model.weights.weakFinger[at.finger - 1] as number;
}

/** Rule 7: fingers 3, 4 and 5 in a row, in any order. */
export function threeFourFive({ model }: Ruling, a: Finger, b: Finger, c: Finger): number {
  return a >= 3 && b >= 3 && c >= 3 && a !== b && b !== c && a !== c ? model.weights.threeFourFive : 0;
}

/** Rule 8: finger 3, then 4. */
export function threeToFour({ model }: Ruling, a: FingeredKey, b: FingeredKey): number {
  return a.finger === 3 && b.finger === 4 ? model.weights.threeToFour : 0;
}

/** Rule 9: 3 on white beside 4 on black, in either order. */
export function fourOnBlack({ model }: Ruling, a: FingeredKey, b: FingeredKey): number {
  const three = a.finger === 3 ? a : b;
  const four = a.finger === 3 ? b : a;
  const found = three.finger === 3 && four.finger === 4 && !isBlack(three.key) && isBlack(four.key);
  return found ? model.weights.fourOnBlack : 0;
}

/** Rule 10: the thumb on a black key. @param whites how many of the neighbours (before, after) are white. */
export function thumbOnBlack({ model }: Ruling, at: FingeredKey, whites: number): number {
  if (at.finger !== 1 || !isBlack(at.key)) return 0;
  return model.weights.thumbOnBlack + whites * model.weights.thumbOnBlackBesideWhite;
}

/** Rule 11: the little finger on a black key. @param whites how many of the neighbours (before, after) are white. */
export function fiveOnBlack({ model }: Ruling, at: FingeredKey, whites: number): number {
  return at.finger === 5 && isBlack(at.key) ? whites * model.weights.fiveOnBlackBesideWhite : 0;
}

/** Rule 12: the thumb goes under a finger, or a finger over the thumb. */
export function thumbPassing({ model, side }: Ruling, a: FingeredKey, b: FingeredKey): number {
  if (a.finger === b.finger || !hasThumb(a, b)) return 0;
  const thumb = a.finger === 1 ? a : b;
  const other = a.finger === 1 ? b : a;
  const isCrossed = side === 'right' ? other.key < thumb.key : other.key > thumb.key;
  if (!isCrossed) return 0;
  const { passOnOneLevel, passWithThumbOnBlack, passWiderThanHalfStep } = model.weights;
  const wide = (Math.abs(thumb.key - other.key) - 1) * passWiderThanHalfStep;
  if (isBlack(thumb.key) === isBlack(other.key)) return passOnOneLevel + wide;
  return (isBlack(thumb.key) ? passWithThumbOnBlack : 0) + wide;
}

/** A rule's charge, by its name. */
export type RuleCosts = Readonly<Record<FingeringRule, number>>;
