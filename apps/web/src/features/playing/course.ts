import { beatTicksOf, type ProgrammeSegment } from '@fivespan/core';
import type { LoopSeconds } from '../../platform/audio/index.ts';
import { beatSecondsOf, chorusSegments, type BarPlace, type Piece } from './piece.ts';

/** Bars of one chorus, played again and again. Both from 0, `toBar` is the last one played. */
export interface LoopBars {
  readonly chorus: number;
  readonly fromBar: number;
  readonly toBar: number;
}

/** A bar line: ticks from the segment's start, the segment's end included. */
export interface BarLine {
  readonly segment: number;
  readonly ticks: number;
}

/** Where the order of a piece is left: at one bar line, for another. */
export interface Turn {
  readonly leave: BarLine;
  readonly enter: BarLine;
}

/** From one bar line to another of the same segment. */
interface Stretch {
  readonly from: BarLine;
  readonly to: BarLine;
}

/** How a piece is gone through: where it begins and where it leaves its order. */
export interface Course {
  /** Where it begins: a count-in, or the bar itself. */
  readonly startSeconds: number;
  /** From a count-in's end to the bar, where they do not follow each other. Taken once. */
  readonly jump: Turn | null;
  /** Taken every time. */
  readonly loop: Turn | null;
  /** Empty bars that a loop goes through before it begins again; null where there are none. */
  readonly rest: Stretch | null;
  /** Turns are taken this much before the bar line, and so is what they lead to entered. */
  readonly earlySeconds: number;
}

/**
 * Players stray from the beat: by 15 ms and a 24th of a beat at most (core, perform-trio.ts). Entering and leaving that much early,
 * a note which comes before its beat still belongs to its own bar.
 */
const MOST_EARLY_SECONDS = 0.015;
const ROUNDING_SECONDS = 0.002;

/** Seconds from the piece's start to a tick of a segment. */
export function secondsAt(segment: ProgrammeSegment, ticks: number): number {
  return segment.startSeconds + (ticks / beatTicksOf(segment.meter)) * beatSecondsOf(segment);
}

function segmentOf({ segments }: Piece, index: number): ProgrammeSegment {
  const segment = segments[index];
  if (segment === undefined)
    throw new RangeError(`segment must be one of the piece's ${segments.length}, not ${index}`);
  return segment;
}

/** The line before a bar of a chorus; `bar` may be the one after the last. */
function lineBefore(piece: Piece, { chorus, bar }: BarPlace): BarLine {
  const choruses = chorusSegments(piece);
  const segment = choruses[Math.max(0, Math.min(chorus, choruses.length - 1))];
  if (segment === undefined) throw new RangeError('piece must have a chorus');
  return { segment, ticks: piece.forms[segment]?.bars[bar]?.startTicks ?? segmentOf(piece, segment).durationTicks };
}

export function lineSeconds(piece: Piece, { segment, ticks }: BarLine): number {
  return secondsAt(segmentOf(piece, segment), ticks);
}

/** A turn as the audio thread takes it. */
export function turnSeconds(
  piece: Piece,
  { leave, enter }: Turn,
  earlySeconds: number,
): { leave: number; enter: number } {
  const early = (line: BarLine): number => Math.max(0, lineSeconds(piece, line) - earlySeconds);
  return { leave: early(leave), enter: early(enter) };
}

/** The loop as the audio thread takes it: from where to where it goes round, and through which rest. */
export function loopSeconds(piece: Piece, { loop, rest, earlySeconds }: Course): LoopSeconds | null {
  if (loop === null) return null;
  const { leave, enter } = turnSeconds(piece, loop, earlySeconds);
  const through = rest === null ? null : turnSeconds(piece, { leave: rest.to, enter: rest.from }, earlySeconds);
  return {
    fromSeconds: enter,
    toSeconds: leave,
    rest: through === null ? null : { fromSeconds: through.enter, toSeconds: through.leave },
  };
}

/** The turns of a loop: round at once, or out to the rest and back. */
export function loopTurns({ loop, rest }: Course): readonly Turn[] {
  if (loop === null) return [];
  if (rest === null) return [loop];
  return [
    { leave: loop.leave, enter: rest.from },
    { leave: rest.to, enter: loop.enter },
  ];
}

/** The rest bars at a tempo: those between choruses, else the last bars of its count-in. As many as there are. */
function restAt({ segments }: Piece, tempoBpm: number, bars: number): Stretch | null {
  if (bars === 0) return null;
  const at = (kind: ProgrammeSegment['kind']): number =>
    segments.findIndex((each) => each.kind === kind && each.tempoBpm === tempoBpm);
  const index = at('rest') < 0 ? at('count-in') : at('rest');
  const segment = segments[index];
  if (segment === undefined) return null;
  const first = segment.bars[Math.max(0, segment.bars.length - bars)];
  return {
    from: { segment: index, ticks: first?.startTicks ?? 0 },
    to: { segment: index, ticks: segment.durationTicks },
  };
}

/** Where playing begins: with looped bars in one of them, the first unless another was asked for. */
export function beginOf(from: BarPlace, loop: LoopBars | null): BarPlace {
  const isWithin = loop === null || (from.chorus === loop.chorus && from.bar >= loop.fromBar && from.bar <= loop.toBar);
  return isWithin ? from : { chorus: loop.chorus, bar: loop.fromBar };
}

/**
 * The course from a bar on: counted in where the piece has a count-in at that tempo, round and round where bars are looped.
 * @param from where to begin; outside the looped bars, their first is where it begins
 * @param restBars empty bars before looped bars begin again
 */
export function courseFrom(piece: Piece, from: BarPlace, loop: LoopBars | null, restBars = 0): Course {
  const target = loop === null ? from : beginOf(from, loop);
  const enter = lineBefore(piece, target);
  const segment = segmentOf(piece, enter.segment);
  const { tempoBpm } = segment;
  const earlySeconds = Math.min(MOST_EARLY_SECONDS, beatSecondsOf(segment) / 24) + ROUNDING_SECONDS;
  const looped =
    loop === null
      ? null
      : {
          leave: lineBefore(piece, { chorus: loop.chorus, bar: loop.toBar + 1 }),
          enter: lineBefore(piece, { chorus: loop.chorus, bar: loop.fromBar }),
        };
  const rest = looped === null ? null : restAt(piece, tempoBpm, restBars);
  const countIn = piece.segments.findLastIndex(
    (each, at) => at < enter.segment && each.kind === 'count-in' && each.tempoBpm === tempoBpm,
  );
  if (countIn < 0) {
    const startSeconds = Math.max(0, lineSeconds(piece, enter) - earlySeconds);
    return { startSeconds, jump: null, loop: looped, rest, earlySeconds };
  }
  const { startSeconds, durationTicks } = segmentOf(piece, countIn);
  // what follows its count-in is simply gone on to, with its pickup
  const follows = countIn === enter.segment - 1 && target.bar === 0;
  const jump = follows ? null : { leave: { segment: countIn, ticks: durationTicks }, enter };
  return { startSeconds, jump, loop: looped, rest, earlySeconds };
}
