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
  /** For each bar how far behind the click the matched beats lie, within a pulse either way, in seconds; null where none is. */
  readonly offsets: readonly (number | null)[];
}

/** Three keys in a row that the line has, too: below this share of them it is another line, and aligning it says nothing. */
const LEAST_ALIKE = 0.3;

/** Of the notes played so many must be the line's, in its time: other lines out of the same positions meet it by chance in some tenths. */
const LEAST_MET = 0.55;
const FEWEST_NOTES = 8;

/** How far a matched note may lie from its neighbours' time, in pulses. */
const TOGETHER_PULSES = 0.2;
const NEIGHBOURS = 2;

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
  const isTogether = late.map((own, index) => {
    const about = median(late.slice(Math.max(0, index - NEIGHBOURS), index + NEIGHBOURS + 1));
    return Math.abs(own - about) <= TOGETHER_PULSES * pulseSeconds;
  });
  if (isTogether.filter(Boolean).length / played.length < LEAST_MET) return null;
  const inBars = bars.map((): number[] => []);
  const met = new Set<HeardNote>();
  for (const [index, pair] of matched.entries()) {
    const { at } = written[pair.written] as { at: number };
    if (isTogether[index]) met.add(played[pair.played] as HeardNote);
    if (isTogether[index] && at % pulseTicks === 0) inBars[indexAt(bars, at)]?.push(late[index] as number);
  }
  const [first, last] = [matched[0]?.written ?? 0, matched.at(-1)?.written ?? 0];
  const barAt = (ticks: number): number => (bars[indexAt(bars, ticks)] as { number: number }).number;
  return {
    written: last - first + 1,
    matched: matched.length,
    met,
    keyAt: new Map(line.map(({ startTicks }, index) => [startTicks, keys[index] as number])),
    missed: missed
      .filter((index) => index > first && index < last)
      .map((index) => written[index] as { at: number; key: number })
      .map(({ at, key }) => ({ bar: barAt(at), key })),
    extra: extra.map((index) => {
      const { startSeconds, key } = played[index] as HeardNote;
      return { bar: barAt((startSeconds / pulseSeconds) * pulseTicks), key };
    }),
    offsets: inBars.map((values) => (values.length === 0 ? null : median(values))),
  };
}
