import { TICKS_PER_QUARTER } from '@fivespan/core';
import { BEAT_LEVEL, type MetricalGrid } from './metrical-grid.ts';

/** A note value as MusicXML names it. */
export type NoteType = 'breve' | 'whole' | 'half' | 'quarter' | 'eighth' | '16th' | '32nd' | '64th';

/** Values from long to short, with their ticks. */
export const NOTE_TYPES: readonly (readonly [NoteType, number])[] = [
  ['breve', TICKS_PER_QUARTER * 8],
  ['whole', TICKS_PER_QUARTER * 4],
  ['half', TICKS_PER_QUARTER * 2],
  ['quarter', TICKS_PER_QUARTER],
  ['eighth', TICKS_PER_QUARTER / 2],
  ['16th', TICKS_PER_QUARTER / 4],
  ['32nd', TICKS_PER_QUARTER / 8],
  ['64th', TICKS_PER_QUARTER / 16],
];

/** The finest places that can be written: 64ths, and 64ths of a triplet. */
const PLAIN_TICKS = 60;
const TRIPLET_TICKS = 40;

/** A stretch that one note or rest can be written for. Ticks from the start of the full bar. */
export interface Segment {
  readonly startTicks: number;
  readonly endTicks: number;
  readonly type: NoteType;
  readonly dots: 0 | 1;
  /** Three in the time of two. */
  readonly isTriplet: boolean;
}

/** The value of a length, plain or once dotted; undefined where no single value has it. */
export function valueOf(ticks: number): { readonly type: NoteType; readonly dots: 0 | 1 } | undefined {
  for (const [type, plain] of NOTE_TYPES) {
    if (ticks === plain) return { type, dots: 0 };
    if (ticks * 2 === plain * 3) return { type, dots: 1 };
  }
  return undefined;
}

/** Strongest level strictly inside a stretch, and the places that have it. */
function strongestInside(grid: MetricalGrid, start: number, end: number): { level: number; places: number[] } {
  let level = Infinity;
  let places: number[] = [];
  for (let ticks = Math.floor(start / PLAIN_TICKS) * PLAIN_TICKS + PLAIN_TICKS; ticks < end; ticks += PLAIN_TICKS) {
    const each = grid.levelAt(ticks);
    if (each < level) {
      level = each;
      places = [ticks];
    } else if (each === level && each !== Infinity) places.push(ticks);
  }
  return { level, places };
}

/**
 * Whether one note may hide the beats inside it. Common practice: a note shows the middle of a 4/4 bar and every
 * compound beat, unless it starts on a place as strong; the plain syncopations short–long–short are read as one note.
 */
function noteMayHide(grid: MetricalGrid, start: number, end: number, inside: number, dots: number): boolean {
  const from = grid.levelAt(start);
  const to = grid.levelAt(end);
  if (grid.isCompound && inside <= BEAT_LEVEL) return from <= BEAT_LEVEL && to <= BEAT_LEVEL;
  if (from <= inside) return true;
  if (inside === 1 && grid.groupTicks.length > 2 && grid.barTicks !== grid.beatTicks * 4) return false;
  return from === inside + 1 && (to <= inside || (dots === 0 && to === inside + 1));
}

/** Whether one rest may. Rests are stricter: never syncopated, dotted only for whole compound beats. Common practice. */
function restMayHide(grid: MetricalGrid, start: number, end: number, inside: number, dots: number): boolean {
  const from = grid.levelAt(start);
  if (grid.isCompound && inside > BEAT_LEVEL) return dots === 0 ? from < inside : from <= BEAT_LEVEL;
  if (grid.isCompound) return from < inside && grid.levelAt(end) <= BEAT_LEVEL;
  return dots === 0 && from < inside;
}

function cut(grid: MetricalGrid, start: number, end: number, kind: 'note' | 'rest', into: Segment[]): void {
  const value = valueOf(end - start);
  const { level, places } = strongestInside(grid, start, end);
  const mayHide = kind === 'note' ? noteMayHide : restMayHide;
  if (value !== undefined && (places.length === 0 || mayHide(grid, start, end, level, value.dots))) {
    into.push({ startTicks: start, endTicks: end, ...value, isTriplet: false });
    return;
  }
  if (places.length === 0) {
    throw new RangeError(
      `notes must start and end on a 64th or a triplet of the beat, not at ${start} to ${end} ticks`,
    );
  }
  // a stretch that starts off the beat reaches the next strong place first; one on it goes on as long as it may
  const at = grid.levelAt(start) > level || kind === 'rest' ? places[0] : places.at(-1);
  cut(grid, start, at as number, kind, into);
  cut(grid, at as number, end, kind, into);
}

function beatStart(ticks: number): number {
  return Math.floor(ticks / TICKS_PER_QUARTER) * TICKS_PER_QUARTER;
}

/** Beats of a simple metre that a triplet divides: a place in them falls on thirds, sixths … and not on plain values. */
export function tripletBeatsOf(grid: MetricalGrid, places: readonly number[]): number[] {
  if (grid.isCompound) return [];
  const isTriplet = (ticks: number): boolean => ticks % PLAIN_TICKS !== 0 && ticks % TRIPLET_TICKS === 0;
  return [...new Set(places.filter(isTriplet).map(beatStart))].sort((a, b) => a - b);
}

/**
 * A place as it can be written: on the 64ths of its beat, or on those of a triplet. Music in eighths, triplets and
 * sixteenths is there already; what is finer is written at the nearest such place.
 */
export function writtenPlace(ticks: number, tripletBeats: readonly number[]): number {
  const step = tripletBeats.includes(beatStart(ticks)) ? TRIPLET_TICKS : PLAIN_TICKS;
  return Math.round(ticks / step) * step;
}

/** Where a stretch of a triplet beat is cut, strongest place first: thirds, sixths, twelfths, twenty-fourths. */
const TRIPLET_PERIODS: readonly number[] = [320, 160, 80, TRIPLET_TICKS];

function cutTriplet(start: number, end: number, into: Segment[]): void {
  const value = valueOf(((end - start) * 3) / 2);
  if (value !== undefined) {
    into.push({ startTicks: start, endTicks: end, ...value, isTriplet: true });
    return;
  }
  const cutAt = TRIPLET_PERIODS.map((each) => Math.floor(start / each) * each + each).find((each) => each < end);
  if (cutAt === undefined) throw new RangeError(`notes must start and end on writtenPlace, not at ${start} to ${end}`);
  cutTriplet(start, cutAt, into);
  cutTriplet(cutAt, end, into);
}

/**
 * Cuts a stretch of a bar into values that can be written so that the metre shows; notes are then tied.
 * @param start ticks from the start of the full bar
 * @param tripletBeats beats that are written as triplets (see tripletBeatsOf)
 * @throws RangeError where the stretch does not begin and end on places that can be written (see writtenPlace).
 * @example segmentsOf(metricalGrid({ count: 4, unit: 4 }), 1440, 2400, 'note', []) // → two tied eighths over the middle
 */
export function segmentsOf(
  grid: MetricalGrid,
  start: number,
  end: number,
  kind: 'note' | 'rest',
  tripletBeats: readonly number[],
): Segment[] {
  const segments: Segment[] = [];
  let from = start;
  for (const beat of tripletBeats) {
    const beatEnd = beat + TICKS_PER_QUARTER;
    if (beatEnd <= from || beat >= end) continue;
    if (from < beat) cut(grid, from, beat, kind, segments);
    from = Math.max(from, beat);
    const to = Math.min(end, beatEnd);
    if (from === beat && to === beatEnd) cut(grid, from, to, kind, segments);
    else cutTriplet(from, to, segments);
    from = to;
  }
  if (from < end) cut(grid, from, end, kind, segments);
  return segments;
}
