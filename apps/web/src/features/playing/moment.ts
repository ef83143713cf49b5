import {
  beatsOf,
  beatTicksOf,
  formatKey,
  isSameFreedom,
  type ChordSymbol,
  type Key,
  type ProgrammeSegment,
} from '@fivespan/core';
import { lineSeconds, loopTurns, turnSeconds, type Course, type Turn } from './course.ts';
import {
  isSamePlace,
  type FormBar,
  type FormFamily,
  type FormSlot,
  type FormView,
  type HandPlace,
} from './form-view.ts';
import { beatSecondsOf, type Piece } from './piece.ts';

/** What is to be seen at a moment of playing. Two moments of a course with the same `id` look the same. */
export interface Moment {
  readonly id: string;
  readonly kind: ProgrammeSegment['kind'];
  readonly key: Key;
  /** The programme's row, from 0; in a count-in or rest the one that comes. */
  readonly chorus: number;
  /** Of the form, from 0; in a count-in the one that comes, in the ending the last one. */
  readonly bar: number;
  readonly bars: readonly FormBar[];
  /** In its bar, from 0. */
  readonly beat: number;
  readonly beats: number;
  /** The chord's place in the piece: another one each time it comes. Null in a count-in and in the ending. */
  readonly chordId: string | null;
  /** Null in a count-in and in the ending. */
  readonly chord: ChordSymbol | null;
  /** Where the hand is now; in a count-in where it will begin. */
  readonly hand: HandPlace | null;
  /** Where it goes next, and in how many beats, counted from this one; null where it stays to the end. */
  readonly next: { readonly hand: HandPlace; readonly beats: number } | null;
  /** The next chord that is another one, and in how many beats; in a count-in the first one. Null where none comes. */
  readonly comingChord: { readonly chord: ChordSymbol; readonly beats: number } | null;
  /** Where a free hand may go now; in a count-in where it may begin, in the ending where it might last. */
  readonly families: readonly FormFamily[];
  /** What it may do next that is something else, and in how many beats; null where that stays to the end. */
  readonly comingFamilies: { readonly families: readonly FormFamily[]; readonly beats: number } | null;
  /** Whether one listens or answers, where the demonstration leaves time for that; null elsewhere. */
  readonly whoseTurn: 'listen' | 'answer' | null;
  /** The key of the next bar where it is another one: a change is announced a bar ahead. */
  readonly comingKey: Key | null;
  /** As the programme has it. */
  readonly tempoBpm: number;
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
function shownSeconds(piece: Piece, course: Course, seconds: number, turned: boolean): number {
  const { jump, loop, earlySeconds } = course;
  const before = (turn: Turn): number => {
    const { leave, enter } = turnSeconds(piece, turn, earlySeconds);
    return seconds >= enter - ROUNDING_SECONDS && seconds < lineSeconds(piece, turn.enter) - ROUNDING_SECONDS
      ? seconds - enter + leave
      : seconds;
  };
  if (loop !== null && turned) {
    return (
      loopTurns(course)
        .map(before)
        .find((shown) => shown !== seconds) ?? seconds
    );
  }
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

  if (segment.kind === 'count-in' || segment.kind === 'rest') {
    const enter =
      turned && course.loop !== null && course.rest?.from.segment === index
        ? course.loop.enter
        : course.jump?.leave.segment === index
          ? course.jump.enter
          : { segment: index + 1, ticks: 0 };
    const target = segmentAt(piece, enter.segment);
    const { hand, chord, families } = slotAt(target.form, enter.ticks);
    const beats = Math.round((segment.durationTicks - beatStart) / beatTicks);
    return {
      ...inBar,
      id,
      // a count-in that a loop rests in is a rest
      kind: turned && course.rest?.from.segment === index ? 'rest' : segment.kind,
      key: target.segment.key,
      chorus: chorusAt(piece, enter.segment),
      bar: lastBegun(target.form.bars, startTicksOf, enter.ticks),
      bars: target.form.bars,
      chordId: null,
      chord: null,
      hand,
      next: hand === null ? null : { hand, beats },
      comingChord: { chord, beats },
      families,
      comingFamilies: null,
      comingKey: null,
      whoseTurn: null,
      tempoBpm: segment.tempoBpm,
    };
  }
  const about = {
    ...inBar,
    tempoBpm: segment.tempoBpm,
    key: segment.key,
    chorus: chorusAt(piece, index),
    bars: form.bars,
  };
  if (segment.kind === 'ending') {
    const last = form.slots.findLast((each) => each.hand !== null);
    const hand = last?.hand ?? null;
    return {
      ...about,
      id,
      kind: 'ending',
      bar: form.bars.length - 1,
      chordId: null,
      chord: null,
      hand,
      next: null,
      comingChord: null,
      families: last?.families ?? [],
      comingFamilies: null,
      comingKey: null,
      whoseTurn: null,
    };
  }
  const slot = slotAt(form, ticks);
  const from = { segment: index, ticks, beatStart };
  return {
    ...about,
    // a slot may begin within a beat
    id: `${id} ${slot.startTicks}`,
    kind: 'chorus',
    bar: barIndex,
    chordId: `${index} ${slot.startTicks}`,
    chord: slot.chord,
    hand: slot.hand,
    next: nextPlace(piece, course, from),
    comingChord: nextChord(piece, course, from),
    families: slot.families,
    comingFamilies: nextFamilies(piece, course, from, slot.families),
    whoseTurn: whoseTurnAt(segment, beatStart),
    comingKey: barIndex < segment.bars.length - 1 ? null : keyAfter(piece, course, index),
  };
}

/** Whose turn it is where the demonstration leaves time to answer. */
function whoseTurnAt({ trades }: ProgrammeSegment, ticks: number): Moment['whoseTurn'] {
  const trade = trades.findLast(({ startTicks }) => startTicks <= Math.max(0, ticks));
  return trade === undefined ? null : trade.isCall ? 'listen' : 'answer';
}

/** A place of a course that one looks on from: its beat began at `beatStart`. */
interface LookingFrom {
  readonly segment: number;
  readonly ticks: number;
  readonly beatStart: number;
}

/** The next place of the hand that is not the present one, in the order in which it will be played. */
function nextPlace(piece: Piece, course: Course, from: LookingFrom): Moment['next'] {
  const { hand } = slotAt(segmentAt(piece, from.segment).form, from.ticks);
  const found = firstAhead(piece, course, from, (slot) => slot.hand !== null && !isSamePlace(slot.hand, hand));
  return found?.slot.hand == null ? null : { hand: found.slot.hand, beats: found.beats };
}

/** The next chord that is not the present one, in the order in which it will be played. */
function nextChord(piece: Piece, course: Course, from: LookingFrom): Moment['comingChord'] {
  const now = JSON.stringify(slotAt(segmentAt(piece, from.segment).form, from.ticks).chord);
  const found = firstAhead(piece, course, from, ({ chord }) => JSON.stringify(chord) !== now);
  return found === null ? null : { chord: found.slot.chord, beats: found.beats };
}

/** What a free hand may do next that is not what it may do now. */
function nextFamilies(
  piece: Piece,
  course: Course,
  from: LookingFrom,
  now: readonly FormFamily[],
): Moment['comingFamilies'] {
  const found = firstAhead(piece, course, from, ({ families }) => families.length > 0 && !isSameFreedom(families, now));
  return found === null ? null : { families: found.slot.families, beats: found.beats };
}

/** The key of the chorus that follows a segment, where it is another one. */
function keyAfter({ segments }: Piece, { loop }: Course, index: number): Key | null {
  if (loop?.leave.segment === index) return null;
  const next = segments.slice(index + 1).find(({ kind }) => kind === 'chorus' || kind === 'ending');
  const now = segments[index];
  if (next?.kind !== 'chorus' || now === undefined || formatKey(next.key) === formatKey(now.key)) return null;
  return next.key;
}

/** The first slot ahead that is asked for, and how many beats it is away. */
function firstAhead(
  piece: Piece,
  { loop, rest }: Course,
  { segment, ticks, beatStart }: LookingFrom,
  isAskedFor: (slot: FormSlot) => boolean,
): { readonly slot: FormSlot; readonly beats: number } | null {
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
      const slot = form.slots.find((each) => each.startTicks > after && each.startTicks < end && isAskedFor(each));
      if (slot !== undefined) return { slot, beats: Math.ceil(beats + (slot.startTicks - from) / beatTicks) };
    }
    beats += (end - from) / beatTicks;
    if (leaves !== null && rest !== null) beats += (rest.to.ticks - rest.from.ticks) / beatTicks;
    at = leaves === null ? at + 1 : leaves.enter.segment;
    from = leaves === null ? 0 : leaves.enter.ticks;
    // what is entered counts from its first tick on
    after = from - 1;
  }
  return null;
}
