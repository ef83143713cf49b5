import {
  clockFault,
  clockTime,
  ENGINE_VERSION,
  writeLessonDocument,
  type Choices,
  type ClockMark,
  type FilmTake,
  type Issue,
} from '@fivespan/core';
import { openFiles } from '../../platform/files/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { FilmSource } from './film-order.ts';
import type { FilmTakeOrder, FilmTakeRead, FollowedTake } from './film-take-job.ts';

/** Larger than any hour of piano. */
const LARGEST_BYTES = 8 * 1024 * 1024;
/** The longest a record may take to be read. */
const LIMIT_MS = 30_000;

/** What became of a record that a film was to follow. */
export type TakeFollowed =
  | { readonly kind: 'take'; readonly take: FollowedTake; readonly name: string }
  | { readonly kind: 'none chosen' | 'too large' | 'unreadable' }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] };

async function read(order: FilmTakeOrder, name: string): Promise<TakeFollowed> {
  try {
    const found = await runJob<FilmTakeOrder, FilmTakeRead>('film take', order, { limitMs: LIMIT_MS });
    return found.kind === 'take' ? { ...found, name } : found;
  } catch {
    return { kind: 'unreadable' };
  }
}

/** A take that is kept here, for a film to follow. @param text as core writes takes */
export async function followKept(text: string, name: string): Promise<TakeFollowed> {
  return await read({ kind: 'kept', text }, name);
}

/** Lets the user choose a MIDI file for a film to follow. Call from a key or click. */
export async function followFile({
  chartText,
  choices,
}: {
  readonly chartText: string;
  readonly choices: Choices;
}): Promise<TakeFollowed> {
  const [file] = await openFiles('.mid,.midi,audio/midi');
  if (file === undefined) return { kind: 'none chosen' };
  if (file.size > LARGEST_BYTES) return { kind: 'too large' };
  const bytes = new Uint8Array(await file.arrayBuffer());
  const document = writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION });
  return await read({ kind: 'file', bytes, document }, file.name);
}

/** A moment of the performance: its first or last note, or seconds of the record. */
export interface TakeMoment {
  readonly at: 'first' | 'last' | 'seconds';
  readonly seconds: number;
}

/** How a performance is shown. */
export interface Following {
  readonly take: FollowedTake;
  readonly name: string;
  /** Moments that are known in the camera's film as well; none: the film begins a little before the music. */
  readonly marks: readonly { readonly filmSeconds: number; readonly moment: TakeMoment }[];
  readonly offsetMs: number;
  /** Who played; nobody is named where it is empty. */
  readonly player: string;
}

/** The marks by the record's clock. */
function marksOf({ take, marks }: Following): ClockMark[] {
  const { notes, clock } = take.played;
  return marks.map(({ filmSeconds, moment }) => {
    const note = moment.at === 'first' ? notes[0] : notes.at(-1);
    const takeSeconds =
      moment.at === 'seconds' ? moment.seconds : clockTime(clock, (note ?? { startSeconds: 0 }).startSeconds);
    return { filmSeconds, takeSeconds };
  });
}

/** Why the marks cannot be followed; undefined where they can. */
export const marksFault = (following: Following): ReturnType<typeof clockFault> => clockFault(marksOf(following));

/** What a film of a performance is made of. Marks that cannot be followed are left out. */
export function takeSource(following: Following): FilmSource {
  const { take, offsetMs, player } = following;
  const { chart, choices, key, played } = take;
  const marks = marksOf(following);
  const followed: FilmTake = {
    ...played,
    marks: clockFault(marks) === undefined ? marks : marks.slice(0, 1),
    offsetMs,
    player: player.trim() === '' ? null : player.trim(),
  };
  return {
    chart,
    choices: { ...choices, keys: [], film: null },
    key,
    bars: null,
    playOnly: false,
    take: followed,
    voices: [],
  };
}
