import type { Analysis, AnalysedSlot } from '../analysis/index.ts';

/** How far outside the peak of the curve lies, in points of outsideness, by level: 1 stays inside, 3 and 4 lose guide tones. */
const PEAK_OF_LEVEL = { 1: 0, 2: 5, 3: 11, 4: 11 } as const;

/** Dominants that lead down a fifth or a half step; a backdoor's has its own colour and keeps it. */
const isDominant = ({ reading: { role } }: AnalysedSlot): boolean =>
  role === 'dominant' || role === 'applied dominant' || role === 'substitute dominant';
/**
 * How much of the height a slot takes, in thirds: dominants all of it, what leads to one none, all others a third. A tritone
 * substitute is outside already: gone out of again, it comes home (common practice); it keeps its Lydian ♭7 unless a teacher wishes it.
 */
function thirdsOf(slot: AnalysedSlot, isOwnWish = false): number {
  if (isDominant(slot)) return slot.reading.role === 'substitute dominant' && !isOwnWish ? 1 : 3;
  return slot.reading.role.endsWith('predominant') ? 0 : 1;
}

/** Where the curve peaks: at the last dominant of a ii–V, ii–V–I or V–I, else at the last dominant; −1 without any. */
function peakOf({ slots, cadences }: Analysis): number {
  const goingHome = cadences
    .filter(({ kind }) => kind.startsWith('ii-') || kind.endsWith('V-I'))
    .flatMap((each) => each.slots)
    .filter((index) => slots[index] !== undefined && isDominant(slots[index]));
  return goingHome.length > 0 ? Math.max(...goingHome) : slots.findLastIndex(isDominant);
}

/**
 * A wish for each slot, in points of outsideness: calm at first, higher from dominant to dominant, the peak at the
 * last ii–V, inside after it. What leads to a dominant stays inside, so that the dominant is heard to go out. Integers, so the same on every machine.
 * @example outsideCurve(analysis, 1) // → all 0
 */
export function outsideCurve(analysis: Analysis, level: 1 | 2 | 3 | 4): readonly number[] {
  const peak = peakOf(analysis);
  const starts = analysis.slots.map(({ played }) => played.startTicks);
  const from = starts[0] ?? 0;
  const wayTicks = (starts[peak] ?? from) - from;
  return analysis.slots.map((slot, index) => {
    if (index > peak) return 0;
    if (wayTicks === 0) return PEAK_OF_LEVEL[level];
    const goneTicks = (starts[index] as number) - from;
    return Math.floor((PEAK_OF_LEVEL[level] * goneTicks * thirdsOf(slot)) / (wayTicks * 3));
  });
}

/** What a teacher's own wish stands for in points of outsideness: 0 inside, 1 another mode, 2 as level 2's peak, 3 as level 3's. */
const POINTS_OF_WISH = [0, 2, 5, 11] as const;

/** The furthest a teacher's own curve goes outside. */
export const FURTHEST_WISH = POINTS_OF_WISH.length - 1;

/** More stretches than a form has bars say nothing. */
export const MOST_WISHES = 64;

/**
 * A teacher's own curve over the form, as a wish for each slot in points of outsideness. The form is parted into as many equal
 * stretches as there are numbers; a chord takes the number of the stretch it begins in. Within it dominants take all of the
 * wish, what leads to them none, other chords a third, as in the level's own curve.
 * @param wishes whole numbers from 0 (inside) to 3 (furthest outside).
 * @throws RangeError where there is none, or one is no such number.
 * @example ownCurve(analysis, [0, 1, 2, 0]) // inside, further and further, inside in the last quarter
 */
export function ownCurve({ slots }: Analysis, wishes: readonly number[]): readonly number[] {
  if (wishes.length === 0) throw new RangeError('wishes must not be empty');
  const points = wishes.map((wish) => {
    const found = POINTS_OF_WISH[wish];
    if (found === undefined)
      throw new RangeError(`wishes must be whole numbers from 0 to ${FURTHEST_WISH}, not ${wish}`);
    return found;
  });
  const stretchAt = stretches(slots, points.length);
  return slots.map((slot) => Math.floor(((points[stretchAt(slot)] as number) * thirdsOf(slot, true)) / 3));
}

/** Which of some equal stretches of the form a slot begins in. */
function stretches(slots: Analysis['slots'], count: number): (slot: AnalysedSlot) => number {
  const from = slots[0]?.played.startTicks ?? 0;
  const lengthTicks = (slots.at(-1)?.played.endTicks ?? from) - from;
  return (slot) => Math.floor(((slot.played.startTicks - from) * count) / lengthTicks);
}

/**
 * The level's own curve as wishes over equal stretches of the form, each as far as its furthest chord: where a teacher's own
 * curve begins.
 * @param count how many stretches, from 1
 * @example levelWishes(analysis, 1, 4) // → [0, 0, 0, 0]
 */
export function levelWishes(analysis: Analysis, level: 1 | 2 | 3 | 4, count: number): readonly number[] {
  const wishes = Array.from({ length: count }, () => 0);
  const stretchAt = stretches(analysis.slots, count);
  const curve = outsideCurve(analysis, level);
  analysis.slots.forEach((slot, index) => {
    const wish = POINTS_OF_WISH.findLastIndex((points) => points <= (curve[index] as number));
    const at = stretchAt(slot);
    wishes[at] = Math.max(wishes[at] as number, wish);
  });
  return wishes;
}
