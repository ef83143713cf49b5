import {
  bestFingerings,
  type Finger,
  type Fingering,
  type FingeringModel,
  type FingerPin,
  type HandSide,
  type Issue,
  type Midi,
  type Result,
} from '@fivespan/core';
import { failure } from './failure.ts';

/** The longest line fingered at once, in notes of one hand; the longest movements have some ten thousand. */
export const MOST_HAND_NOTES = 20_000;

/** An overlap shorter than this, a thirty-second, is legato and no held key. */
const HELD_TICKS = 120;

/** A note one hand strikes, as a file gives it; ties are one note. */
export interface HandNote {
  /** As the file numbers its bars; in a MIDI file counted from 1. */
  readonly bar: number;
  /** 960 to the quarter, from the first full bar. A grace note begins where the note it leads to does. */
  readonly startTicks: number;
  /** 0 for a grace note. */
  readonly durationTicks: number;
  /** One beat of the metre here. */
  readonly beatTicks: number;
  /** As written, in ASCII: `Bb3`; null where the file has no names (MIDI). */
  readonly name: string | null;
  readonly midi: Midi;
  /** The finger the file already gives. */
  readonly fixed: Finger | null;
  /** Notes of one number are struck at once. Numbers rise with the line. */
  readonly strike: number;
}

/** One way to finger a line. */
export interface FingeredWay {
  /** For each note its finger. Notes of one key struck at once (a unison of two voices) have one finger together. */
  readonly fingers: readonly Finger[];
  readonly fingering: Fingering;
}

/** A line with its fingers. */
export interface FingeredLine extends FingeredWay {
  /** The next-best ways, where more than one was asked for. */
  readonly others: readonly FingeredWay[];
}

interface LineStrike {
  readonly keys: readonly Midi[];
  readonly notes: readonly number[];
}

function strikesOf(notes: readonly HandNote[]): LineStrike[] {
  const strikes: LineStrike[] = [];
  let from = 0;
  while (from < notes.length) {
    let to = from;
    while (notes[to]?.strike === notes[from]?.strike) to++;
    const indices = Array.from({ length: to - from }, (_, index) => from + index);
    const keys = [...new Set(indices.map((index) => (notes[index] as HandNote).midi))].sort((a, b) => a - b);
    strikes.push({ keys, notes: indices });
    from = to;
  }
  return strikes;
}

/** Strikes before which nothing sounds for a beat or longer: there the hand comes freely. */
function restsBefore(notes: readonly HandNote[], strikes: readonly LineStrike[]): number[] {
  const rests: number[] = [];
  let end = Number.NEGATIVE_INFINITY;
  for (const [index, strike] of strikes.entries()) {
    const first = notes[strike.notes[0] as number] as HandNote;
    if (index > 0 && first.startTicks - end >= first.beatTicks) rests.push(index);
    for (const at of strike.notes) {
      const note = notes[at] as HandNote;
      end = Math.max(end, note.startTicks + note.durationTicks);
    }
  }
  return rests;
}

function pinsOf(notes: readonly HandNote[], strikes: readonly LineStrike[]): FingerPin[] {
  const pins: FingerPin[] = [];
  for (const [strike, { keys, notes: indices }] of strikes.entries()) {
    for (const key of keys) {
      // of a unison's two noteheads the first with a finger counts
      const finger = indices
        .map((at) => notes[at] as HandNote)
        .find((note) => note.midi === key && note.fixed !== null);
      if (finger?.fixed !== null && finger !== undefined) pins.push({ strike, key, finger: finger.fixed });
    }
  }
  return pins;
}

/** Where a finger is asked for that still holds another key: the published models look at strikes, not at what is held. */
function heldFingers(notes: readonly HandNote[], fingers: readonly Finger[]): Issue[] {
  const holding: Partial<Record<Finger, { readonly key: Midi; readonly end: number }>> = {};
  let count = 0;
  let bar: number | undefined;
  for (const [index, note] of notes.entries()) {
    const finger = fingers[index] as Finger;
    const held = holding[finger];
    if (held !== undefined && held.key !== note.midi && held.end - note.startTicks >= HELD_TICKS) {
      count++;
      bar ??= note.bar;
    }
    const end = note.startTicks + note.durationTicks;
    if (held === undefined || end >= held.end) holding[finger] = { key: note.midi, end };
  }
  return bar === undefined ? [] : [{ code: 'fingering.finger-held', args: { count }, place: { bar } }];
}

/**
 * The best fingering of one hand's notes: a finger the file gives is obeyed, and after a rest of a beat or more the hand
 * comes freely. Keys held on while others are struck do not bind their fingers; where that shows, a warning says so.
 * @param notes in time order; notes of one `strike` stand together.
 * @returns a finger for each note, or what is wrong with the bar it is in: more than five keys at once, fingers that cross.
 */
export function fingerLine(
  notes: readonly HandNote[],
  { side, model, ways = 1 }: { readonly side: HandSide; readonly model: FingeringModel; readonly ways?: number },
): Result<FingeredLine> {
  if (notes.length > MOST_HAND_NOTES) {
    return failure('fingering.too-long', { notes: notes.length, limit: MOST_HAND_NOTES });
  }
  const strikes = strikesOf(notes);
  const line = strikes.map(({ keys }) => keys);
  const found = bestFingerings(line, {
    side,
    model,
    count: ways,
    pins: pinsOf(notes, strikes),
    restsBefore: restsBefore(notes, strikes),
  });
  if (!found.ok) {
    const barOf = (strike: number): number => (notes[strikes[strike]?.notes[0] ?? 0] as HandNote).bar;
    return {
      ok: false,
      issues: found.issues.map((issue) => ({ ...issue, place: { bar: barOf(Number(issue.args['strike']) - 1) } })),
    };
  }
  const wayOf = (fingering: Fingering): FingeredWay => ({
    fingering,
    fingers: strikes.flatMap(({ keys, notes: indices }, strike) =>
      indices.map(
        (at) => (fingering.fingers[strike] as readonly Finger[])[keys.indexOf((notes[at] as HandNote).midi)] as Finger,
      ),
    ),
  });
  const [{ fingers, fingering }, ...others] = found.value.map(wayOf) as [FingeredWay, ...FingeredWay[]];
  return { ok: true, value: { fingers, fingering, others }, warnings: heldFingers(notes, fingers) };
}
