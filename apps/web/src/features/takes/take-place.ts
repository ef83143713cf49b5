/** Where in a take a moment of playing belongs: music time from bar 1, at the tempo that is played. */
import { beatTicksOf, formatKey, type Key, type ProgrammeSegment } from '@fivespan/core';
import type { HeardNow } from '../playing/index.ts';

/** A place in a take. */
export interface TakePlace {
  /** The stretch of one key and one tempo it is in: a take is of one. The segment it begins with. */
  readonly stretch: number;
  readonly key: Key;
  /** Beats a minute of the metre, as played. */
  readonly tempoBpm: number;
  readonly barSeconds: number;
  /** From bar 1 of the stretch's first chorus; negative in the count-in. A loop's passes follow each other chorus by chorus. */
  readonly seconds: number;
}

const isAsBefore = (segment: ProgrammeSegment, before: ProgrammeSegment | undefined): boolean =>
  before?.kind === 'chorus' && before.tempoBpm === segment.tempoBpm && formatKey(before.key) === formatKey(segment.key);

/**
 * The place of a moment; null where the piece has no chorus there.
 * @param rate the share of the programme's tempo that the take is counted at
 */
export function takePlace({ piece, course, positionSeconds, passes }: HeardNow, rate: number): TakePlace | null {
  const { segments } = piece;
  const index = Math.max(
    0,
    segments.findLastIndex(({ startSeconds }) => startSeconds <= positionSeconds),
  );
  const now = segments[index];
  if (now === undefined) return null;
  const elapsed = ((positionSeconds - now.startSeconds) * now.tempoBpm * beatTicksOf(now.meter)) / 60;
  let chorus = index;
  let ticks = elapsed;
  if (now.kind === 'count-in') {
    const enter = course.jump?.leave.segment === index ? course.jump.enter : { segment: index + 1, ticks: 0 };
    chorus = enter.segment;
    ticks = enter.ticks + elapsed - now.durationTicks;
  } else if (now.kind === 'ending') {
    chorus = index - 1;
    ticks = (segments[chorus]?.durationTicks ?? 0) + elapsed;
  }
  const segment = segments[chorus];
  if (segment?.kind !== 'chorus') return null;
  let stretch = chorus;
  while (stretch > 0 && isAsBefore(segment, segments[stretch - 1])) stretch--;
  const beatTicks = beatTicksOf(segment.meter);
  const tempoBpm = segment.tempoBpm * rate;
  const all = ticks + (chorus - stretch + passes) * segment.durationTicks;
  const beatsABar = (segment.bars[1]?.startTicks ?? segment.durationTicks) / beatTicks;
  return {
    stretch,
    key: segment.key,
    tempoBpm,
    barSeconds: (60 / tempoBpm) * beatsABar,
    seconds: (all / beatTicks) * (60 / tempoBpm),
  };
}
