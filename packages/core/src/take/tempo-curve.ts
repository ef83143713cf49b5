/**
 * The beats of a take that was played without a click. The unknowns are where each bar of the form begins and how long it is; what is
 * heard are strokes, which fall on beats, off-beats and thirds of beats, and a bass, whose roots come with the chords. The cheapest way
 * through the bars is found by dynamic programming over their ends and lengths, the best ways kept at each bar, from several tempi.
 * After beat tracking by dynamic programming (Ellis 2007, from memory), with the chart as the metre.
 */
import type { Course, CourseBar, TakeGround } from './course.ts';
import { courseOf, sounds } from './course.ts';
import { median } from './figures.ts';
import type { HeardNote } from './take.ts';

/** Where the bars of a take lie. */
interface TempoCurve {
  /** When each bar begins, from bar 1 on, in seconds of the record; one more for the end of the last. */
  readonly barSeconds: readonly number[];
  /** The tempo in the middle, beats a minute of the chart's metre. */
  readonly tempoBpm: number;
  /** 0 to 1: how much nearer the strokes lie to parts of the beat than by chance. */
  readonly sure: number;
}

/** Tempi tried, as shares of the usual one, and how far a first bar may lie from each. */
const TEMPI = [0.5, 0.62, 0.78, 1, 1.26, 1.6] as const;
const FIRST_SPREAD = 0.12;
const LENGTHS_TRIED = 13;

/** How much a bar's length changes against the one before, as a standard deviation of its logarithm; the most that is tried. */
const CHANGE = { spread: 0.035, most: 0.1, steps: 4 } as const;

/** Ways kept at each bar; at first some of each beginning, since a few bars do not tell yet which beat is the first. */
const WAYS = { of: 80, ofEach: 9, opening: 8 } as const;

/**
 * In nats: a root where its chord begins, another bass note there, nothing there; a note of the chord-scale, another one; a chord tone in
 * the bass, another note there (an approach as often as not); a stroke left out before bar 1.
 */
const WORTH = {
  root: 2,
  other: -1.2,
  silent: -0.4,
  inScale: 0.2,
  foreign: -0.8,
  bassTone: 0.3,
  bassOther: -0.3,
  leftOut: -2,
} as const;

/** Each doubling or halving against the usual tempo costs so much a bar. */
const UNUSUAL_TEMPO = 0.9;

/** Strokes so little before the bar line are the bar's, in pulses; and near a beat. */
const EARLY_PULSES = 0.14;
const NEAR_PULSES = 0.16;

const BINS = 96;

/** How likely strokes are at each phase of the pulse, against chance, in nats. */
function kernelOf({ swings, isCompound }: Course): Float64Array {
  const places: readonly (readonly [place: number, weight: number, width: number])[] = isCompound
    ? [
        [0, 1, 0.04],
        [1 / 3, 0.6, 0.045],
        [2 / 3, 0.6, 0.045],
      ]
    : [
        [0, 1, 0.04],
        [swings ? 0.6 : 0.5, 0.6, swings ? 0.06 : 0.04],
        [1 / 3, 0.08, 0.04],
        [2 / 3, 0.1, 0.04],
      ];
  const total = places.reduce((sum, [, weight]) => sum + weight, 0.12);
  return Float64Array.from({ length: BINS }, (_, bin) => {
    let density = 0.12;
    for (const [place, weight, width] of places) {
      let apart = Math.abs(bin / BINS - place);
      apart = Math.min(apart, 1 - apart);
      density += (weight * Math.exp(-0.5 * (apart / width) ** 2)) / (width * 2.5066);
    }
    return Math.log(density / total);
  });
}

interface Stroke {
  readonly seconds: number;
  readonly keys: readonly number[];
  /** The lowest key of the left hand in it; null where only the right hand strikes. */
  readonly bass: number | null;
}

const AT_ONCE_SECONDS = 0.035;

function strokesOf(notes: readonly HeardNote[]): Stroke[] {
  const strokes: { seconds: number; keys: number[]; bass: number | null }[] = [];
  for (const { startSeconds, key, hand } of notes) {
    let last = strokes.at(-1);
    if (last === undefined || startSeconds - last.seconds > AT_ONCE_SECONDS) {
      last = { seconds: startSeconds, keys: [], bass: null };
      strokes.push(last);
    }
    if (hand === 'right') last.keys.push(key);
    else last.bass = Math.min(key, last.bass ?? key);
  }
  return strokes;
}

interface Way {
  readonly endSeconds: number;
  readonly lengthSeconds: number;
  readonly worth: number;
  /** The first stroke that is not yet in a bar. */
  readonly next: number;
  /** Which of the beginnings it goes back to. */
  readonly beginning: number;
  readonly before: Way | null;
}

/** What the strokes of a bar say for its beginning here and being so long. */
function worthOf(
  bar: CourseBar,
  start: number,
  length: number,
  first: number,
  strokes: readonly Stroke[],
  { pulseTicks }: Course,
  kernel: Float64Array,
): { worth: number; next: number } {
  const ticks = bar.endTicks - bar.startTicks;
  const pulses = ticks / pulseTicks;
  const pulse = length / pulses;
  const until = start + length - EARLY_PULSES * pulse;
  let worth = 0;
  let next = first;
  for (; next < strokes.length; next++) {
    const { seconds, keys, bass } = strokes[next] as Stroke;
    if (seconds >= until) break;
    const place = (seconds - start) / pulse;
    worth += kernel[Math.floor((place - Math.floor(place)) * BINS) % BINS] as number;
    const slot = bar.slots.findLast(
      ({ startTicks }) => startTicks - bar.startTicks <= (place + EARLY_PULSES) * pulseTicks,
    );
    if (slot === undefined || slot.chord === null) continue;
    if (bass !== null) worth += sounds(slot.chordTones, bass) ? WORTH.bassTone : WORTH.bassOther;
    for (const key of keys) worth += sounds(slot.scale, key) ? WORTH.inScale : WORTH.foreign;
  }
  for (const slot of bar.slots) {
    if (slot.chord === null) continue;
    const at = start + ((slot.startTicks - bar.startTicks) / pulseTicks) * pulse;
    let found: number | null = null;
    for (let index = first; index < next; index++) {
      const { seconds, bass } = strokes[index] as Stroke;
      if (bass !== null && Math.abs(seconds - at) <= NEAR_PULSES * pulse) found = bass;
    }
    worth += found === null ? WORTH.silent : sounds(slot.grounds, found) ? WORTH.root : WORTH.other;
  }
  return { worth, next };
}

/** Of ways that end alike the best, and of those the best few. */
function bestOf(ways: readonly Way[], isOpening: boolean): Way[] {
  const known = new Map<string, Way>();
  for (const way of ways) {
    const place = `${Math.round(way.endSeconds * 40)} ${Math.round(way.lengthSeconds * 25)}`;
    const other = known.get(place);
    if (other === undefined || way.worth > other.worth) known.set(place, way);
  }
  const sorted = [...known.values()].sort((a, b) => b.worth - a.worth);
  if (!isOpening) return sorted.slice(0, WAYS.of);
  const counts = new Map<number, number>();
  return sorted.filter(({ beginning }) => {
    const count = counts.get(beginning) ?? 0;
    counts.set(beginning, count + 1);
    return count < WAYS.ofEach;
  });
}

/** Where bar 1 may begin: at one of the first strokes, or so many beats before the first. */
function startsOf(strokes: readonly Stroke[], pulse: number, pulses: number): { at: number; worth: number }[] {
  const first = (strokes[0] as Stroke).seconds;
  const later = strokes.slice(1, 5).map(({ seconds }, index) => ({ at: seconds, worth: WORTH.leftOut * (index + 1) }));
  const earlier = Array.from({ length: 2 * pulses - 1 }, (_, half) => ({
    at: first - ((half + 1) / 2) * pulse,
    worth: half % 2 === 1 ? -1 : -2,
  }));
  return [{ at: first, worth: 0 }, ...later, ...earlier];
}

/** The best way with a first bar about this long. */
function follow(strokes: readonly Stroke[], course: Course, barSeconds: number, lastBars: number): Way | null {
  const kernel = kernelOf(course);
  const form = course.bars.filter(({ startTicks, chorus }) => chorus === 1 && startTicks >= 0);
  const usual = form[0] as CourseBar;
  const pulses = Math.round((usual.endTicks - usual.startTicks) / course.pulseTicks);
  const last = (strokes.at(-1) as Stroke).seconds;
  let ways: Way[] = [];
  let best: Way | null = null;
  const step = (bar: CourseBar, from: Way, length: number, cost: number): Way => {
    const start = from.endSeconds;
    const { worth, next } = worthOf(bar, start, length, from.next, strokes, course, kernel);
    const { beginning } = from;
    const gained = from.worth + worth - cost;
    return { endSeconds: start + length, lengthSeconds: length, worth: gained, next, beginning, before: from };
  };
  for (let at = 0; at < LENGTHS_TRIED; at++) {
    const length = barSeconds * (1 + FIRST_SPREAD * ((2 * at) / (LENGTHS_TRIED - 1) - 1));
    for (const [beginning, { at: start, worth }] of startsOf(strokes, length / pulses, pulses).entries()) {
      const next = strokes.findIndex(({ seconds }) => seconds >= start - (EARLY_PULSES * length) / pulses);
      const opening: Way = {
        endSeconds: start,
        lengthSeconds: length,
        worth,
        next: Math.max(0, next),
        beginning,
        before: null,
      };
      ways.push(step(usual, opening, length, 0));
    }
  }
  for (let index = 1; index <= lastBars && ways.length > 0; index++) {
    ways = bestOf(ways, index <= WAYS.opening);
    for (const way of ways) if (way.endSeconds > last && (best === null || way.worth > best.worth)) best = way;
    const bar = form[index % form.length] as CourseBar;
    const share = (bar.endTicks - bar.startTicks) / (usual.endTicks - usual.startTicks);
    const before = form[(index - 1) % form.length] as CourseBar;
    const shareBefore = (before.endTicks - before.startTicks) / (usual.endTicks - usual.startTicks);
    ways = ways
      .filter(({ endSeconds }) => endSeconds <= last)
      .flatMap((way) =>
        Array.from({ length: 2 * CHANGE.steps + 1 }, (_, place) => {
          const change = (CHANGE.most * (place - CHANGE.steps)) / CHANGE.steps;
          const length = (way.lengthSeconds * share * Math.exp(change)) / shareBefore;
          return step(bar, way, length, 0.5 * (change / CHANGE.spread) ** 2);
        }),
      );
  }
  return best;
}

/** Strokes from which beats are told, and how sure it has to be. */
const FEWEST_STROKES = 24;
const LEAST_SURE = 0.35;
const LONGEST_BARS = 2000;

/** Half an hour of two busy hands, and more than both hands strike in a bar: beyond either it is no take, and would take minutes to follow. */
const MOST_STROKES = 6000;
const MOST_A_BAR = 64;

/**
 * Finds the bars of a take without a click. It begins at bar 1, perhaps with a pickup, and goes round the form as often as it likes.
 * @param notes in order of time, each with its hand
 * @param usualBpm the chart's tempo: a take half as fast or half as fast again is looked for, too
 * @returns null where there is too little to say
 */
function tempoCurve(ground: TakeGround, notes: readonly HeardNote[], usualBpm: number): TempoCurve | null {
  const strokes = strokesOf(notes);
  if (strokes.length < FEWEST_STROKES || strokes.length > MOST_STROKES) return null;
  const course = courseOf(ground, usualBpm, 0);
  const usual = course.bars.find(({ startTicks }) => startTicks >= 0);
  if (usual === undefined) return null;
  const pulses = (usual.endTicks - usual.startTicks) / course.pulseTicks;
  const usualSeconds = pulses * course.pulseSeconds;
  const reach = (strokes.at(-1) as Stroke).seconds - (strokes[0] as Stroke).seconds;
  if ((strokes.length * usualSeconds) / Math.max(usualSeconds, reach) > MOST_A_BAR) return null;
  let best: { readonly way: Way; readonly worth: number } | null = null;
  for (const tempo of TEMPI) {
    const length = usualSeconds / tempo;
    const way = follow(strokes, course, length, Math.min(LONGEST_BARS, Math.ceil((reach / length) * 1.6) + 2));
    if (way === null) continue;
    const worth = way.worth - (UNUSUAL_TEMPO * Math.abs(Math.log2(tempo)) * reach) / usualSeconds;
    if (best === null || worth > best.worth) best = { way, worth };
  }
  if (best === null) return null;
  const barSeconds: number[] = [];
  for (let way: Way | null = best.way; way !== null; way = way.before) barSeconds.unshift(way.endSeconds);
  const sure = Math.max(0, Math.min(1, Math.round((best.way.worth / strokes.length / 1.3) * 100) / 100));
  if (sure < LEAST_SURE) return null;
  const lengths = barSeconds.slice(1).map((end, index) => end - (barSeconds[index] as number));
  return { barSeconds, tempoBpm: (usualBpm * usualSeconds) / median(lengths), sure };
}

/**
 * Lays a take on a steady beat: each bar of the curve takes the bar's time at its middle tempo, so that it can be judged like one to
 * a click. What comes before bar 1 goes by the first bar's tempo, what comes after by the last one's.
 * @returns seconds from bar 1
 */
function onSteadyBeat(
  ground: TakeGround,
  notes: readonly HeardNote[],
  { barSeconds, tempoBpm }: TempoCurve,
): HeardNote[] {
  const course = courseOf(ground, tempoBpm, 0);
  const form = course.bars.filter(({ startTicks, chorus }) => chorus === 1 && startTicks >= 0);
  const tickSeconds = course.pulseSeconds / course.pulseTicks;
  const starts = [0];
  for (let index = 0; index + 1 < barSeconds.length; index++) {
    const { startTicks, endTicks } = form[index % form.length] as CourseBar;
    starts.push((starts[index] as number) + (endTicks - startTicks) * tickSeconds);
  }
  let bar = 0;
  const steady = (seconds: number, from: number): number => {
    let at = from;
    while (at + 2 < barSeconds.length && seconds >= (barSeconds[at + 1] as number)) at++;
    const [low, high] = [barSeconds[at] as number, barSeconds[at + 1] as number];
    const share = (seconds - low) / (high - low);
    return (starts[at] as number) + share * ((starts[at + 1] as number) - (starts[at] as number));
  };
  return notes.map((note) => {
    while (bar + 2 < barSeconds.length && note.startSeconds >= (barSeconds[bar + 1] as number)) bar++;
    const startSeconds = steady(note.startSeconds, bar);
    return {
      ...note,
      startSeconds,
      durationSeconds: steady(note.startSeconds + note.durationSeconds, bar) - startSeconds,
    };
  });
}

/** Bars so near the stated tempo's are played to it, to a click or not. */
const STEADY_SECONDS = 0.15;

/** A take laid on the beats that were found in it. */
export interface FoundBeats {
  /** Seconds from bar 1 at a steady tempo. */
  readonly notes: readonly HeardNote[];
  readonly tempoBpm: number;
  /** 0 to 1. */
  readonly sure: number;
}

/** How much nearer another key's beats must be to be believed. */
const OTHER_KEY = 0.1;

/** The move that makes the take's pitch classes most like those of the chart's chords, in half steps: a guess at its key. */
function likelyMove({ slots }: Course, notes: readonly HeardNote[]): number {
  const heard = Array.from({ length: 12 }, () => 0);
  for (const { key } of notes) heard[key % 12] = (heard[key % 12] as number) + 1;
  const worthOfMove = (by: number): number => {
    let worth = 0;
    for (const { chord, scale, chordTones, startTicks, endTicks } of slots) {
      if (chord === null) continue;
      for (let pitch = 0; pitch < 12; pitch++) {
        const fits = Number(sounds(scale, pitch)) + Number(sounds(chordTones, pitch));
        worth += fits * (heard[(pitch + by) % 12] as number) * (endTicks - startTicks);
      }
    }
    return worth;
  };
  return Array.from({ length: 12 }, (_, by) => by).reduce((best, by) =>
    worthOfMove(by) > worthOfMove(best) ? by : best,
  );
}

/**
 * A take whose tempo nobody states, on its own beats; null where too little is sure, or where it keeps to the chart's tempo from its
 * first moment on, as to a click.
 * @param notes in order of time from the start of the record, each with its hand
 * @param usualBpm the chart's tempo
 */
export function onFoundBeats(ground: TakeGround, notes: readonly HeardNote[], usualBpm: number): FoundBeats | null {
  const own = tempoCurve(ground, notes, usualBpm);
  const by = likelyMove(courseOf(ground, usualBpm, 0), notes);
  // played in another key the chords say nothing until it is taken home
  const moved =
    by === 0
      ? null
      : tempoCurve(
          ground,
          notes.map((note) => ({ ...note, key: note.key - by + 12 })),
          usualBpm,
        );
  const curve = moved !== null && moved.sure > (own?.sure ?? 0) + OTHER_KEY ? moved : own;
  if (curve === null) return null;
  const { bars, pulseSeconds, pulseTicks } = courseOf(ground, usualBpm, curve.barSeconds.at(-1) ?? 0);
  const full = bars.filter(({ startTicks }) => startTicks >= 0);
  const isSteady = curve.barSeconds.slice(0, -1).every((seconds, index) => {
    const at = ((full[index]?.startTicks ?? 0) / pulseTicks) * pulseSeconds;
    return Math.abs(seconds - at) <= STEADY_SECONDS;
  });
  if (isSteady) return null;
  return { notes: onSteadyBeat(ground, notes, curve), tempoBpm: curve.tempoBpm, sure: curve.sure };
}
