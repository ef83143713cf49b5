import { indexAt, type Course, type CourseSlot } from './course.ts';
import { median } from './figures.ts';
import { followTime, offsetAt, type FollowedTime, type PulseGrid } from './follow-time.ts';
import type { OwnLine } from './own-line.ts';
import type { HeardNote } from './take.ts';

/** A note of one hand with its place in the music. */
export interface PlacedNote extends HeardNote {
  /** Where it is meant to be: ticks from the first full bar, on a beat or a part of one. */
  readonly ticks: number;
  /** What it falls on. */
  readonly part: 'beat' | 'off-beat' | 'other';
  /** How far behind the click, where it falls on a beat; null elsewhere. */
  readonly lateSeconds: number | null;
  /** Length to its end, and to the next stroke of the same hand (infinite after the last), in pulses. */
  readonly lengthPulses: number;
  readonly toNextPulses: number;
  /** Whether it is the note that the lesson has there; and which key that is, null where it has none or another line was played. */
  readonly isWritten: boolean;
  readonly writtenKey: number | null;
  /** The chord it belongs to: an anticipation's is the coming one. */
  readonly slot: CourseSlot;
}

/** One hand's notes, struck together or one by one. */
export interface HeardLine {
  readonly notes: readonly PlacedNote[];
  readonly time: FollowedTime;
  readonly strokes: number;
}

const AT_ONCE_SECONDS = 0.035;

/** How far from a beat a stroke is still of that beat, as a share of the pulse; before slow beats less: their off-beats come late. */
const OF_BEAT = 0.24;
const BEFORE_SLOW_BEAT = 0.185;
const SLOW_PULSE_SECONDS = 0.4;

export function gridOf(course: Course): PulseGrid {
  const { pulseSeconds, pulseTicks, barTicks, swings, isCompound } = course;
  return { pulseSeconds, windowSeconds: (barTicks / pulseTicks) * pulseSeconds, swings, isCompound };
}

/** Places off the beat as shares of the pulse as written; the swung off-beat is the half. */
function partAt(share: number, ratio: number, isCompound: boolean): number {
  const off = ratio / (ratio + 1);
  const places: readonly (readonly [played: number, written: number])[] = isCompound
    ? [
        [1 / 3, 1 / 3],
        [2 / 3, 2 / 3],
      ]
    : [
        [off, 0.5],
        ...(Math.abs(off - 1 / 3) > 0.1 ? ([[1 / 3, 1 / 3]] as const) : []),
        ...(Math.abs(off - 2 / 3) > 0.1 ? ([[2 / 3, 2 / 3]] as const) : []),
      ];
  let best = places[0] as readonly [number, number];
  for (const place of places) if (Math.abs(place[0] - share) < Math.abs(best[0] - share)) best = place;
  return best[1];
}

interface Timed {
  readonly note: HeardNote;
  readonly ticks: number;
  readonly part: PlacedNote['part'];
  readonly lateSeconds: number | null;
}

function placed(note: HeardNote, at: number, line: FollowedTime, course: Course, grid: PulseGrid): Timed {
  const { pulseSeconds, pulseTicks, isCompound } = course;
  const own = (at - offsetAt(line, at, grid.windowSeconds)) / pulseSeconds;
  const beat = Math.round(own);
  const fromBeat = own - beat;
  const before = pulseSeconds >= SLOW_PULSE_SECONDS ? BEFORE_SLOW_BEAT : OF_BEAT;
  if (fromBeat >= -before && fromBeat <= OF_BEAT) {
    return { note, ticks: beat * pulseTicks, part: 'beat', lateSeconds: note.startSeconds - beat * pulseSeconds };
  }
  const floor = Math.floor(own);
  const part = partAt(own - floor, line.ratio, isCompound);
  return {
    note,
    ticks: Math.round((floor + part) * pulseTicks),
    part: part === 0.5 ? 'off-beat' : 'other',
    lateSeconds: null,
  };
}

/**
 * A hand's notes with their places in the music.
 * @param own how it met the line that the lesson has for it; null where it played another
 */
export function heardLine(notes: readonly HeardNote[], course: Course, own: OwnLine | null): HeardLine {
  const grid = gridOf(course);
  const strokes: HeardNote[][] = [];
  for (const note of notes) {
    const last = strokes.at(-1);
    if (last !== undefined && note.startSeconds - (last[0] as HeardNote).startSeconds <= AT_ONCE_SECONDS)
      last.push(note);
    else strokes.push([note]);
  }
  const times = strokes.map((stroke) => median(stroke.map(({ startSeconds }) => startSeconds)));
  const { bars, slots, pulseTicks, pulseSeconds } = course;
  const time = followTime(
    times,
    grid,
    own === null ? undefined : (seconds) => own.offsets[indexAt(bars, (seconds / pulseSeconds) * pulseTicks)] ?? null,
  );
  const all = strokes.flatMap((stroke, index) => {
    const at = times[index] as number;
    const toNext = ((times[index + 1] ?? Number.POSITIVE_INFINITY) - at) / pulseSeconds;
    return stroke.map((note): PlacedNote => {
      const { ticks, part, lateSeconds } = placed(note, at, time, course, grid);
      const place = indexAt(slots, ticks);
      // field by field: a spread here was a third of the whole judging
      return {
        startSeconds: note.startSeconds,
        durationSeconds: note.durationSeconds,
        key: note.key,
        velocity: note.velocity,
        hand: note.hand,
        ticks,
        part,
        lateSeconds,
        lengthPulses: note.durationSeconds / pulseSeconds,
        toNextPulses: toNext,
        isWritten: own?.met.has(note) === true,
        writtenKey: own?.keyAt.get(ticks % course.chorusTicks) ?? null,
        slot: anticipated(note, ticks, place, slots, pulseTicks),
      };
    });
  });
  return { notes: all, time, strokes: strokes.length };
}

/** The coming chord, where a note on the last off-beat is foreign to this one and at home there. */
function anticipated(
  { key }: HeardNote,
  ticks: number,
  own: number,
  slots: readonly CourseSlot[],
  pulseTicks: number,
): CourseSlot {
  const here = slots[own] as CourseSlot;
  const next = slots[own + 1];
  if (next === undefined || here.endTicks - ticks > pulseTicks / 2 || here.endTicks <= ticks) return here;
  const bit = 1 << (key % 12);
  return (here.scale & bit) === 0 && (next.scale & bit) !== 0 ? next : here;
}
