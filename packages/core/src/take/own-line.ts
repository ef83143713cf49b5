/**
 * Whether a hand plays the line that the lesson has written for it, and how it met it note by note: matched, missed, extra. What is
 * known of the score also tells where the beat is: a line that is half a beat off has the same rhythm as one on the other side.
 */
import type { Score } from '../score/index.ts';
import { midiOf } from '../theory/index.ts';
import { align } from './align.ts';
import { indexAt, type Course } from './course.ts';
import { median } from './figures.ts';
import type { HeardNote } from './take.ts';
import { writtenFor } from './written-line.ts';

/** The lesson's own line as a hand played it. */
export interface OwnLine {
  /** Notes of the line from the first that was met to the last, through all times round the form. */
  readonly written: number;
  readonly matched: number;
  /** Written and not heard; heard and not written: each with its bar of the course. */
  readonly missed: readonly { readonly bar: number; readonly key: number }[];
  readonly extra: readonly { readonly bar: number; readonly key: number }[];
  /** Played notes that are the line's, in its time, and the line's keys by tick within the form. */
  readonly met: ReadonlySet<HeardNote>;
  readonly keyAt: ReadonlyMap<number, number>;
  /** Written places, through all times round, at which a note was met in its time. */
  readonly metTicks: ReadonlySet<number>;
  /** From where on the line goes whole pulses early (below 0: as many were lost) or late, and the bars where that happened. */
  readonly jumps: readonly Jump[];
  /** For each bar how far behind the click the matched beats lie, within a pulse either way, in seconds; null where none is. */
  readonly offsets: readonly (number | null)[];
}

export interface Jump {
  /** The first written place that was left out, or else the first after it. */
  readonly ticks: number;
  readonly bars: readonly number[];
  readonly pulses: number;
}

/** Three keys in a row that the line has, too: below this share of them it is another line, and aligning it says nothing. */
const LEAST_ALIKE = 0.3;

/** Of the notes played so many must be the line's, in its time: other lines out of the same positions meet it by chance in some tenths. */
const LEAST_MET = 0.55;
const FEWEST_NOTES = 8;

/** How far a matched note may lie from its neighbours' time, in pulses. */
const TOGETHER_PULSES = 0.2;
const NEIGHBOURS = 2;

/**
 * Neighbours that far from the hand's time about them belong to another bar: the coarse alignment takes a bar of the line on other
 * keys for a later one that has these keys. Who loses beats and goes on from there has a new time from then on.
 */
const FURTHEST_PULSES = 1.5;
const HAND_NEIGHBOURS = 8;

/** A jump is told where so many notes either side of it agree, at the ends of the line fewer, and it is whole pulses by so much. */
const JUMP_NOTES = 3;
const FEWEST_JUMP_NOTES = 2;
const WHOLE_PULSES = 0.25;
const FURTHEST_JUMP = 3;

/** More notes than a line has in so many pulses. */
const NEAR_NOTES = 16;

/** So many notes may be put in or left out at a time. */
const BAND = 48;

function alike(played: readonly HeardNote[], keys: readonly number[]): number {
  // MIDI keys have seven bits
  const nameOf = (a: number, b: number, c: number): number => (a << 14) | (b << 7) | c;
  const known = new Set(
    keys.slice(2).map((key, index) => nameOf(keys[index] as number, keys[index + 1] as number, key)),
  );
  let met = 0;
  for (let index = 2; index < played.length; index++) {
    const [a, b, c] = [played[index - 2], played[index - 1], played[index]] as [HeardNote, HeardNote, HeardNote];
    if (known.has(nameOf(a.key, b.key, c.key))) met++;
  }
  return met / Math.max(1, played.length - 2);
}

/** A note of the line that was met: its written place, in pulses, and how far behind it was struck. */
interface MetNote {
  readonly written: number;
  readonly place: number;
  readonly late: number;
}

/**
 * Where the notes before agree on one time and those after on another, whole pulses away: drift and strays are less, and no jump.
 * @param has whether the line has the note of this index at a place in pulses, too: keys struck again and again jump nowhere
 */
function jumpsOf(
  met: readonly MetNote[],
  has: (written: number, place: number) => boolean,
): readonly { readonly before: number; readonly after: number; readonly pulses: number }[] {
  return met.flatMap(({ written }, index) => {
    const before = met.slice(Math.max(0, index - JUMP_NOTES), index);
    const after = met.slice(index, index + JUMP_NOTES);
    if (before.length < FEWEST_JUMP_NOTES || after.length < FEWEST_JUMP_NOTES) return [];
    const [from, to] = [before, after].map((notes) => median(notes.map(({ late }) => late))) as [number, number];
    const pulses = Math.round(to - from);
    if (pulses === 0 || Math.abs(pulses) > FURTHEST_JUMP || Math.abs(to - from - pulses) > WHOLE_PULSES) return [];
    const agree = (notes: readonly MetNote[], about: number): boolean =>
      notes.every(({ late }) => Math.abs(late - about) <= WHOLE_PULSES);
    if (!agree(before, from) || !agree(after, to)) return [];
    const inOldTime = after.filter((note) => has(note.written, note.place + note.late - from));
    if (2 * inOldTime.length >= after.length) return [];
    return [{ before: (met[index - 1] as MetNote).written, after: written, pulses }];
  });
}

/** The line a hand was to play, if that is what it played; null where it is another. */
export function ownLineOf(
  played: readonly HeardNote[],
  score: Score,
  hand: 'right' | 'left',
  { bars, choruses, chorusTicks, pulseTicks, pulseSeconds }: Course,
): OwnLine | null {
  const line = writtenFor(score, hand);
  if (played.length < FEWEST_NOTES || line.length < FEWEST_NOTES) return null;
  const keys = line.map(({ pitch }) => midiOf(pitch) as number);
  if (alike(played, [...keys, ...keys.slice(0, 2)]) < LEAST_ALIKE) return null;
  const written = Array.from({ length: choruses }, (_, chorus) =>
    line.map(({ startTicks }, index) => ({
      at: chorus * chorusTicks + startTicks,
      key: keys[index] as number,
    })),
  ).flat();
  const { matched, missed, extra } = align(written, played, BAND);
  const late = matched.map((pair) => {
    const nominal = ((written[pair.written] as { at: number }).at / pulseTicks) * pulseSeconds;
    return (played[pair.played] as HeardNote).startSeconds - nominal;
  });
  const about = (index: number, neighbours: number): number =>
    median(late.slice(Math.max(0, index - neighbours), index + neighbours + 1));
  const isTogether = late.map((own, index) => {
    const time = about(index, NEIGHBOURS);
    if (Math.abs(own - time) > TOGETHER_PULSES * pulseSeconds) return false;
    return Math.abs(time - about(index, HAND_NEIGHBOURS)) <= FURTHEST_PULSES * pulseSeconds;
  });
  if (isTogether.filter(Boolean).length / played.length < LEAST_MET) return null;
  const inBars = bars.map((): number[] => []);
  const met = new Set<HeardNote>();
  for (const [index, pair] of matched.entries()) {
    const { at } = written[pair.written] as { at: number };
    if (isTogether[index]) met.add(played[pair.played] as HeardNote);
    if (isTogether[index] && at % pulseTicks === 0) inBars[indexAt(bars, at)]?.push(late[index] as number);
  }
  const atIndex = (index: number): number => (written[index] as { at: number }).at;
  const inTime = matched.flatMap((pair, index) =>
    isTogether[index] === true ? [{ written: pair.written, late: (late[index] as number) / pulseSeconds }] : [],
  );
  const jumps = jumpsOf(
    inTime.map((note) => ({ ...note, place: atIndex(note.written) / pulseTicks })),
    (index, place) => {
      const { key } = written[index] as { key: number };
      const near = written.slice(Math.max(0, index - NEAR_NOTES), index + NEAR_NOTES + 1);
      return near.some((each) => each.key === key && Math.abs(each.at / pulseTicks - place) <= WHOLE_PULSES);
    },
  );
  const [first, last] = [matched[0]?.written ?? 0, matched.at(-1)?.written ?? 0];
  const barAt = (ticks: number): number => (bars[indexAt(bars, ticks)] as { number: number }).number;
  return {
    written: last - first + 1,
    matched: matched.length,
    met,
    metTicks: new Set(inTime.map((note) => atIndex(note.written))),
    keyAt: new Map(line.map(({ startTicks }, index) => [startTicks, keys[index] as number])),
    missed: missed
      .filter((index) => index > first && index < last)
      .map((index) => written[index] as { at: number; key: number })
      .map(({ at, key }) => ({ bar: barAt(at), key })),
    extra: extra.map((index) => {
      const { startSeconds, key } = played[index] as HeardNote;
      return { bar: barAt((startSeconds / pulseSeconds) * pulseTicks), key };
    }),
    jumps: jumps.map(({ before, after, pulses }) => {
      const lost = Array.from({ length: after - before }, (_, index) => barAt(atIndex(before + 1 + index)));
      // what was left out between, or else the first note after
      return { ticks: atIndex(before + 1), bars: [...new Set(lost.length > 1 ? lost.slice(0, -1) : lost)], pulses };
    }),
    offsets: inBars.map((values) => (values.length === 0 ? null : median(values))),
  };
}
