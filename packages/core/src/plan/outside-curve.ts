import type { Analysis, AnalysedSlot } from '../analysis/index.ts';

/** How far outside the peak of the curve lies, in points of outsideness, by level: 1 stays inside, 3 and 4 lose guide tones. */
const PEAK_OF_LEVEL = { 1: 0, 2: 5, 3: 11, 4: 11 } as const;

/** Dominants that lead down a fifth or a half step; a backdoor's has its own colour and keeps it. */
const isDominant = ({ reading: { role } }: AnalysedSlot): boolean =>
  role === 'dominant' || role === 'applied dominant' || role === 'substitute dominant';
/** How much of the height a slot takes, in thirds: dominants all of it, what leads to one none, all others a third. */
function thirdsOf(slot: AnalysedSlot): number {
  if (isDominant(slot)) return 3;
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
