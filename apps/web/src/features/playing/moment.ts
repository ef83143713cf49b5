import { beatsOf, beatTicksOf, type ChordSymbol, type Key, type ProgrammeSegment } from '@fivespan/core';
import { lineSeconds, turnSeconds, type Course, type Turn } from './course.ts';
import { isSamePlace, type FormBar, type FormSlot, type FormView, type HandPlace } from './form-view.ts';
import { beatSecondsOf, type Piece } from './piece.ts';

/** What is to be seen at a moment of playing. Two moments of a course with the same `id` look the same. */
export interface Moment {
  readonly id: string;
  readonly kind: ProgrammeSegment['kind'];
  readonly key: Key;
  /** The programme's row, from 0; in a count-in the one that comes. */
  readonly chorus: number;
  /** Of the form, from 0; in a count-in the one that comes, in the ending the last one. */
  readonly bar: number;
  readonly bars: readonly FormBar[];
  /** In its bar, from 0. */
  readonly beat: number;
  readonly beats: number;
  /** Null in a count-in and in the ending. */
  readonly chord: ChordSymbol | null;
  /** Where the hand lies now; in a count-in where it will begin. */
  readonly hand: HandPlace | null;
  /** Where it goes next, and in how many beats, counted from this one; null where it stays to the end. */
  readonly next: { readonly hand: HandPlace; readonly beats: number } | null;
}

/** A few frames of sound: a position computed as just before a beat is on it. */
const ROUNDING_SECONDS = 1e-4;

/** A hand that stays where it is through so many segments has no next place. */
const MOST_SEGMENTS_AHEAD = 4;

/** The last of an ascending list that begins at or before a place. */
function lastBegun<Each>(list: readonly Each[], startOf: (each: Each) => number, place: number): number {
  let low = 0;
  let high = list.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (startOf(list[middle] as Each) <= place) low = middle;
    else high = middle - 1;
  }
  return low;
}

const startTicksOf = ({ startTicks }: { readonly startTicks: number }): number => startTicks;

/** Turns are taken a moment before the bar line: within that moment one still sees what was before. */
function shownSeconds(piece: Piece, { jump, loop, earlySeconds }: Course, seconds: number, turned: boolean): number {
  const before = (turn: Turn): number => {
    const { leave, enter } = turnSeconds(piece, turn, earlySeconds);
    return seconds >= enter - ROUNDING_SECONDS && seconds < lineSeconds(piece, turn.enter) - ROUNDING_SECONDS
      ? seconds - enter + leave
      : seconds;
  };
  if (loop !== null && turned) return before(loop);
  return jump === null ? seconds : before(jump);
}

/** Everything that is looked up of a segment. */
function segmentAt(
  { segments, forms }: Piece,
  index: number,
): { readonly segment: ProgrammeSegment; readonly form: FormView } {
  return { segment: segments[index] as ProgrammeSegment, form: forms[index] as FormView };
}

function slotAt({ slots }: FormView, ticks: number): FormSlot {
  return slots[lastBegun(slots, startTicksOf, ticks)] as FormSlot;
}

/** The programme's row that a segment is, or the last one before it; 0 before the first. */
function chorusAt({ segments }: Piece, segment: number): number {
  const begun = segments.slice(0, segment + 1).filter(({ kind }) => kind === 'chorus').length;
  return Math.max(0, begun - 1);
}

/**
 * What is to be seen at a place of a piece.
 * @param positionSeconds of the piece
 * @param turned whether the loop has begun again, which the position alone does not tell
 */
export function momentAt(piece: Piece, course: Course, positionSeconds: number, turned: boolean): Moment {
  const seconds = Math.max(0, shownSeconds(piece, course, positionSeconds, turned)) + ROUNDING_SECONDS;
  const index = lastBegun(piece.segments, (each) => each.startSeconds, seconds);
  const { segment, form } = segmentAt(piece, index);
  const played = ((seconds - segment.startSeconds) / beatSecondsOf(segment)) * beatTicksOf(segment.meter);
  const ticks = Math.min(segment.durationTicks - 1, played);
  const barIndex = lastBegun(segment.bars, startTicksOf, ticks);
  const bar = segment.bars[barIndex];
  const barTicks = bar?.startTicks ?? 0;
  const meter = bar?.meter ?? segment.meter;
  const beatTicks = beatTicksOf(meter);
  const beat = Math.floor((ticks - barTicks) / beatTicks);
  const beatStart = barTicks + beat * beatTicks;
  const id = `${index} ${barIndex} ${beat}`;
  const inBar = { beat, beats: beatsOf(meter) };

  if (segment.kind === 'count-in') {
    const enter = course.jump?.leave.segment === index ? course.jump.enter : { segment: index + 1, ticks: 0 };
    const target = segmentAt(piece, enter.segment);
    const { hand } = slotAt(target.form, enter.ticks);
    const beats = Math.round((segment.durationTicks - beatStart) / beatTicks);
    return {
      ...inBar,
      id,
      kind: 'count-in',
      key: target.segment.key,
      chorus: chorusAt(piece, enter.segment),
      bar: lastBegun(target.form.bars, startTicksOf, enter.ticks),
      bars: target.form.bars,
      chord: null,
      hand,
      next: hand === null ? null : { hand, beats },
    };
  }
  const about = { ...inBar, key: segment.key, chorus: chorusAt(piece, index), bars: form.bars };
  if (segment.kind === 'ending') {
    const hand = form.slots.findLast((each) => each.hand !== null)?.hand ?? null;
    return { ...about, id, kind: 'ending', bar: form.bars.length - 1, chord: null, hand, next: null };
  }
  const slot = slotAt(form, ticks);
  return {
    ...about,
    // a slot may begin within a beat
    id: `${id} ${slot.startTicks}`,
    kind: 'chorus',
    bar: barIndex,
    chord: slot.chord,
    hand: slot.hand,
    next: nextPlace(piece, course, index, ticks, beatStart),
  };
}

/** The next place of the hand that is not the present one, in the order in which it will be played. */
function nextPlace(piece: Piece, { loop }: Course, segment: number, ticks: number, beatStart: number): Moment['next'] {
  const { hand } = slotAt(segmentAt(piece, segment).form, ticks);
  let at = segment;
  /** From where the segment is looked at, and how many beats from now that is. */
  let from = beatStart;
  let beats = 0;
  let after = ticks;
  for (let seen = 0; seen < MOST_SEGMENTS_AHEAD && at < piece.segments.length; seen++) {
    const { segment: here, form } = segmentAt(piece, at);
    if (here.kind === 'ending') return null;
    const leaves = loop !== null && loop.leave.segment === at && loop.leave.ticks > from ? loop : null;
    const end = leaves === null ? here.durationTicks : leaves.leave.ticks;
    const beatTicks = beatTicksOf(here.meter);
    if (here.kind === 'chorus') {
      const found = form.slots.find(
        (slot) =>
          slot.startTicks > after && slot.startTicks < end && slot.hand !== null && !isSamePlace(slot.hand, hand),
      );
      if (found?.hand != null)
        return { hand: found.hand, beats: Math.ceil(beats + (found.startTicks - from) / beatTicks) };
    }
    beats += (end - from) / beatTicks;
    at = leaves === null ? at + 1 : leaves.enter.segment;
    from = leaves === null ? 0 : leaves.enter.ticks;
    // what is entered counts from its first tick on
    after = from - 1;
  }
  return null;
}
