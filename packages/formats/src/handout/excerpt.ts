import type { Score } from '@fivespan/core';

/** Bars of a stretch: a phrase. */
export const EXCERPT_BARS = 4;

/** A stretch of a score, and the bars it has as they are counted on paper. */
export interface Excerpt {
  readonly score: Score;
  /** Index in the whole score of its first thumb. */
  readonly firstThumb: number;
  readonly from: number;
  readonly to: number;
}

/** Some bars of a score as a score of its own, which begins with the first of them; notes that go on beyond it end with it. */
export function excerptOf(score: Score, first: number, count: number): Score {
  const bars = score.bars.slice(first, first + count);
  const [from] = bars;
  const last = bars.at(-1);
  if (from === undefined || last === undefined) return { ...score, bars: [] };
  const start = from.startTicks;
  const end = last.startTicks + last.durationTicks;
  const within = <Timed extends { readonly startTicks: number }>(list: readonly Timed[]): Timed[] =>
    list
      .filter(({ startTicks }) => startTicks >= start && startTicks < end)
      .map((each) => ({ ...each, startTicks: each.startTicks - start }));
  return {
    ...score,
    key: from.key,
    meter: from.meter,
    bars: within(bars),
    chords: within(score.chords),
    thumbs: within(score.thumbs),
    phrases: within(score.phrases).map((each) => ({ ...each, endTicks: Math.min(each.endTicks, end) - start })),
    staves: score.staves.map((staff) => ({
      ...staff,
      notes: within(staff.notes).map((note) => ({
        ...note,
        durationTicks: Math.min(note.durationTicks, end - start - note.startTicks),
      })),
    })),
    endTicks: end - start,
  };
}

/** The phrase of four bars in which the thumb moves most, the first of several; undefined where the score has no thumb. */
export function busiestPhrase(score: Score): Excerpt | undefined {
  const begin = Math.max(
    0,
    score.bars.findIndex((bar) => !bar.isPickup),
  );
  let best: { readonly first: number; readonly thumbs: number } | undefined;
  for (let first = begin; first < score.bars.length; first += EXCERPT_BARS) {
    const { thumbs } = excerptOf(score, first, EXCERPT_BARS);
    if (thumbs.length > (best?.thumbs ?? 0)) best = { first, thumbs: thumbs.length };
  }
  if (best === undefined) return undefined;
  const bars = score.bars.slice(best.first, best.first + EXCERPT_BARS);
  return {
    score: excerptOf(score, best.first, EXCERPT_BARS),
    firstThumb: score.thumbs.findIndex(({ startTicks }) => startTicks >= (bars[0]?.startTicks ?? 0)),
    from: bars[0]?.number ?? 1,
    to: bars.at(-1)?.number ?? 1,
  };
}
