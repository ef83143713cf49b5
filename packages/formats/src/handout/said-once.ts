import type { Score, ScoreStaff } from '@fivespan/core';
import { excerptOf } from './excerpt.ts';

/** Fewer bars than this are read more quickly than a reference to them. */
const LEAST_BARS = 4;

/** A stretch that is left out because it stands before: bars as they are counted on paper. */
export interface Again {
  readonly from: number;
  readonly to: number;
  readonly asFrom: number;
  readonly asTo: number;
}

/** Whatever of a bar is printed, as a text: its chords and the notes of these staves, from its own beginning. */
function contentOf(score: Score, index: number, roles: readonly ScoreStaff['role'][]): string {
  const { chords, staves, key, meter } = excerptOf(score, index, 1);
  const notes = staves.filter(({ role }) => roles.includes(role)).map((staff) => staff.notes);
  return JSON.stringify([key, meter, chords.map(({ startTicks, chord }) => [startTicks, chord]), notes]);
}

/**
 * A score without the stretches of four bars or more that are the same, for these staves, as bars before them.
 * @returns `again`: the stretches left out, in order, and where they stand
 */
export function withoutRepeats(
  score: Score,
  roles: readonly ScoreStaff['role'][],
): { readonly score: Score; readonly again: readonly Again[] } {
  const contents = score.bars.map((_, index) => contentOf(score, index, roles));
  const again: Again[] = [];
  const kept: { first: number; count: number }[] = [];
  let at = 0;
  while (at < contents.length) {
    const { first, count } = longestBefore(contents, at);
    if (count >= LEAST_BARS) {
      const numberOf = (index: number): number => score.bars[index]?.number ?? 0;
      again.push({
        from: numberOf(at),
        to: numberOf(at + count - 1),
        asFrom: numberOf(first),
        asTo: numberOf(first + count - 1),
      });
      at += count;
    } else {
      const last = kept.at(-1);
      if (last !== undefined && last.first + last.count === at) last.count++;
      else kept.push({ first: at, count: 1 });
      at++;
    }
  }
  if (again.length === 0) return { score, again };
  const stretches = kept.map((each) => excerptOf(score, each.first, each.count));
  return { score: joined(stretches, score.bars[0]?.startTicks ?? 0), again };
}

/** The longest stretch that begins at a bar and stood before it as a whole; the first of several. */
function longestBefore(contents: readonly string[], at: number): { readonly first: number; readonly count: number } {
  let best = { first: 0, count: 0 };
  for (let first = 0; first < at; first++) {
    let count = 0;
    while (first + count < at && at + count < contents.length && contents[first + count] === contents[at + count]) {
      count++;
    }
    if (count > best.count) best = { first, count };
  }
  return best;
}

/** A score that much later. */
function moved(score: Score, byTicks: number): Score {
  const later = <Timed extends { readonly startTicks: number }>(list: readonly Timed[]): Timed[] =>
    list.map((each) => ({ ...each, startTicks: each.startTicks + byTicks }));
  return {
    ...score,
    bars: later(score.bars),
    chords: later(score.chords),
    thumbs: later(score.thumbs),
    phrases: later(score.phrases).map((each) => ({ ...each, endTicks: each.endTicks + byTicks })),
    staves: score.staves.map((staff) => ({ ...staff, notes: later(staff.notes) })),
    endTicks: score.endTicks + byTicks,
  };
}

/** Scores one after the other as one, from that time on; a pickup begins before time. */
function joined(scores: readonly Score[], startTicks: number): Score {
  const [first, ...rest] = scores;
  if (first === undefined) throw new RangeError('scores must be one or more');
  return rest.reduce(
    (before, each) => {
      const next = moved(each, before.endTicks);
      return {
        ...before,
        bars: [...before.bars, ...next.bars],
        chords: [...before.chords, ...next.chords],
        thumbs: [...before.thumbs, ...next.thumbs],
        phrases: [...before.phrases, ...next.phrases],
        staves: before.staves.map((staff, index) => ({
          ...staff,
          notes: [...staff.notes, ...(next.staves[index]?.notes ?? [])],
        })),
        endTicks: next.endTicks,
      };
    },
    moved(first, startTicks),
  );
}
