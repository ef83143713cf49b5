/** A hand's time: how late, how it drifts against the click, how it swings. */
import { indexAt, type Course } from './course.ts';
import { lineThrough, mean, median, sturdyDeviation, sureOf, trimmedMean } from './figures.ts';
import { fitOf, offsetAt } from './follow-time.ts';
import { gridOf, type HeardLine, type PlacedNote } from './heard-line.ts';
import type { Measured } from './take.ts';

/** A stretch in which the hand's time runs away, by bars of the course. */
export interface Drift {
  readonly fromBar: number;
  readonly toBar: number;
  /** Milliseconds a bar: below 0 it rushes. */
  readonly msABar: number;
  readonly errors: number;
}

export interface HandTime {
  /** How far behind the click the beats lie, in ms. */
  readonly late: Measured | null;
  /** The same where it is so for some bars only: the stretch of bars that is furthest off. */
  readonly stretches: readonly {
    readonly fromBar: number;
    readonly toBar: number;
    readonly ms: number;
    readonly errors: number;
  }[];
  readonly drifts: readonly Drift[];
  /** Long part to short part of the beat. */
  readonly swing: Measured | null;
  /** How much single strokes stray from the hand's own pulse, as a standard deviation in ms. */
  readonly stray: Measured | null;
  /** By bar of the course: ms late, and swing; null where there is too little to say. */
  readonly byBar: readonly { readonly lateMs: number | null; readonly swing: number | null }[];
}

interface Beat {
  readonly bar: number;
  /** In bars, for slopes. */
  readonly at: number;
  readonly ms: number;
  /** The same, as a line's value. */
  readonly value: number;
}

function beatsOf(notes: readonly PlacedNote[], course: Course): Beat[] {
  const beats: Beat[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const { ticks, lateSeconds } of notes) {
    if (lateSeconds === null || ticks === last) continue;
    last = ticks;
    const ms = lateSeconds * 1000;
    beats.push({ bar: indexAt(course.bars, ticks), at: ticks / course.barTicks, ms, value: ms });
  }
  return beats;
}

/** Lengths of stretches looked at for drift, in bars. */
const STRETCHES = [6, 8, 12, 16, 24, 32, 48, 64];

/**
 * A drift is told from here: recorded soloists float by some 100 ms about the beat and come back, with 5 to 10 ms a bar for a
 * while (Jazz Trio Database, docs/takes.md). So it must be clear, go far, and run away from the click.
 */
const LEAST_MS_A_BAR = 10;
const LEAST_MS = 85;
const AWAY_MS = 75;
const LEAST_ERRORS = 5;
const SHORT_ERRORS = 7;

/** For each bar where its beats begin among all; one more for the end. */
function firstsOf(beats: readonly Beat[], bars: number): number[] {
  const firsts: number[] = [];
  let at = 0;
  for (let bar = 0; bar <= bars; bar++) {
    while (at < beats.length && (beats[at] as Beat).bar < bar) at++;
    firsts.push(at);
  }
  return firsts;
}

/**
 * A line that goes over to off-beats looks like one whose beats run away to where its off-beats lie. So a drift must explain the
 * strokes better than a steady pulse with off-beats does, by so many nats; steady is where players lie (time-findings.ts).
 */
const LEAST_FIT = 30;
const STEADY_AT = [-0.03, -0.015, 0, 0.015, 0.03, 0.045] as const;

/** By how many nats a drift explains a stretch of bars better than a steady pulse. */
function fitOfDrift({ notes, time }: HeardLine, course: Course, fromBar: number, toBar: number): number {
  const [from, to] = [course.bars[fromBar]?.startTicks ?? 0, course.bars[toBar]?.endTicks ?? 0];
  const strokes = notes.filter(({ ticks }) => ticks >= from && ticks < to).map(({ startSeconds }) => startSeconds);
  const grid = gridOf(course);
  const drifting = fitOf(strokes, (seconds) => offsetAt(time, seconds, grid.windowSeconds), grid, time.ratio);
  return drifting - Math.max(...STEADY_AT.map((offset) => fitOf(strokes, () => offset, grid, time.ratio)));
}

/** The stretches with the clearest drift, longest first; none overlaps another. */
function driftsOf(beats: readonly Beat[], line: HeardLine, course: Course): Drift[] {
  const bars = course.bars.length;
  const found: Drift[] = [];
  const firsts = firstsOf(beats, bars);
  const lengths = [...STRETCHES.filter((each) => each < bars), bars].filter((each) => each >= 4);
  for (const length of lengths) {
    for (let from = 0; from + length <= bars; from += Math.max(1, Math.floor(length / 4))) {
      const inside = beats.slice(firsts[from], firsts[from + length]);
      if (inside.length < (length < 8 ? 9 : 7)) continue;
      const slope = lineThrough(inside);
      if (slope === null) continue;
      const reach = (inside.at(-1) as Beat).at - (inside[0] as Beat).at;
      // strokes placed by a machine have no spread of their own: a person's is taken
      const error = Math.max(slope.error, (10 / Math.sqrt(inside.length) / Math.max(1, reach)) * 3.4641);
      const errors = Math.abs(slope.slope) / error;
      if (
        Math.abs(slope.slope) < LEAST_MS_A_BAR ||
        Math.abs(slope.slope) * reach < LEAST_MS ||
        errors < (length < 8 ? SHORT_ERRORS : LEAST_ERRORS)
      )
        continue;
      const tail = median(inside.slice(-Math.max(3, Math.floor(inside.length / 5))).map(({ ms }) => ms));
      if (Math.sign(tail) !== Math.sign(slope.slope) || Math.abs(tail) < AWAY_MS) continue;
      found.push({ fromBar: from, toBar: from + length - 1, msABar: slope.slope, errors });
    }
  }
  found.sort((a, b) => b.errors - a.errors);
  const kept: Drift[] = [];
  for (const drift of found) {
    if (kept.some((each) => each.fromBar <= drift.toBar && drift.fromBar <= each.toBar)) continue;
    if (fitOfDrift(line, course, drift.fromBar, drift.toBar) >= LEAST_FIT) kept.push(drift);
  }
  return kept;
}

/** Ratio of a divided beat from where its off-beat is between the beats that the hand itself keeps. */
function swingsOf(
  notes: readonly PlacedNote[],
  course: Course,
  beats: readonly Beat[],
): { bar: number; ratio: number }[] {
  const own = new Map<number, number>();
  for (const { ticks, startSeconds, part } of notes)
    if (part === 'beat' && !own.has(ticks)) own.set(ticks, startSeconds);
  const usual = beats.length === 0 ? 0 : median(beats.map(({ ms }) => ms)) / 1000;
  const { pulseTicks, pulseSeconds } = course;
  return notes.flatMap(({ ticks, part, startSeconds }) => {
    if (part !== 'off-beat') return [];
    const beat = Math.floor(ticks / pulseTicks) * pulseTicks;
    const on = own.get(beat);
    const next = own.get(beat + pulseTicks);
    // one of both beats struck is enough; the other lies a pulse away
    if (on === undefined && next === undefined && beats.length < 8) return [];
    const from = on ?? (next === undefined ? (beat / pulseTicks) * pulseSeconds + usual : next - pulseSeconds);
    const to = next ?? from + pulseSeconds;
    const ratio = (startSeconds - from) / (to - startSeconds);
    return ratio >= 0.5 && ratio <= 4 ? [{ bar: indexAt(course.bars, ticks), ratio }] : [];
  });
}

/** Where the beats of some bars lie, against the rest of the take: stretches of four bars and more. */
function stretchesOf(beats: readonly Beat[], bars: number): HandTime['stretches'] {
  const found: { fromBar: number; toBar: number; ms: number; errors: number }[] = [];
  const firsts = firstsOf(beats, bars);
  for (const length of [4, 8, 16]) {
    for (let from = 0; from + length <= bars; from += length / 4) {
      const inside = beats.slice(firsts[from], firsts[from + length]).map(({ ms }) => ms);
      if (inside.length < 8) continue;
      const spread = Math.max(12, sturdyDeviation(inside));
      found.push({
        fromBar: from,
        toBar: from + length - 1,
        ms: trimmedMean(inside),
        errors: Math.sqrt(inside.length) / spread,
      });
    }
  }
  return found;
}

/** How single strokes stray from the hand's own pulse, which is the middle of the strokes about each. */
function strayOf(beats: readonly Beat[]): Measured | null {
  if (beats.length < 16) return null;
  const rests = beats.map(({ ms }, index) => {
    const around = beats.slice(Math.max(0, index - 4), index + 5).map((each) => each.ms);
    return ms - median(around);
  });
  // the middle of nine is itself uncertain: the rest is a little smaller than the stroke's own deviation
  const value = Math.sqrt(mean(rests.map((each) => Math.min(120, Math.abs(each)) ** 2)));
  return { value: Math.round(value * 10) / 10, sure: sureOf(Math.sqrt(beats.length)) };
}

/**
 * From so many strokes on in the beats that have some, a line is one of sixteenths or finer parts: its strokes lie so near together
 * that where its beats are cannot be told from them (docs/takes.md). A compound beat has one part more.
 */
const FINE_STROKES = 2.2;

function isFine({ notes, strokes }: HeardLine, { pulseTicks, isCompound }: Course): boolean {
  const struck = new Set(notes.map(({ ticks }) => Math.floor(ticks / pulseTicks))).size;
  return strokes / Math.max(1, struck) > FINE_STROKES + (isCompound ? 1 : 0);
}

/**
 * Everything about a hand's time.
 * @param isOwn whether it plays the lesson's own line, so that the score tells where its beats are
 */
export function handTime(line: HeardLine, course: Course, isOwn: boolean): HandTime {
  const { notes } = line;
  const beats = isOwn || !isFine(line, course) ? beatsOf(notes, course) : [];
  const swings = course.swings ? swingsOf(notes, course, beats) : [];
  const firsts = firstsOf(beats, course.bars.length);
  const ratiosOf = new Map<number, { ratio: number }[]>();
  for (const swing of swings) ratiosOf.set(swing.bar, [...(ratiosOf.get(swing.bar) ?? []), swing]);
  const ms = beats.map((each) => each.ms);
  const error = Math.max(8, sturdyDeviation(ms)) / Math.sqrt(Math.max(1, ms.length));
  return {
    late: ms.length < 6 ? null : { value: Math.round(trimmedMean(ms) * 10) / 10, sure: sureOf(20 / error) },
    stretches: stretchesOf(beats, course.bars.length),
    drifts: driftsOf(beats, line, course),
    swing:
      swings.length < 6
        ? null
        : {
            value: Math.round(median(swings.map(({ ratio }) => ratio)) * 100) / 100,
            sure: sureOf(Math.sqrt(swings.length)),
          },
    stray: strayOf(beats),
    byBar: course.bars.map((_, bar) => {
      const own = beats.slice(firsts[bar], firsts[bar + 1]).map((each) => each.ms);
      const ratios = (ratiosOf.get(bar) ?? []).map(({ ratio }) => ratio);
      return {
        lateMs: own.length < 2 ? null : Math.round(mean(own)),
        swing: ratios.length < 2 ? null : Math.round(median(ratios) * 100) / 100,
      };
    }),
  };
}
