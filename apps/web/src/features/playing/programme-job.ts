/** The worker's side of playing: a programme becomes notes, and the notes sound, a few seconds at a time. */
import {
  issueOfFault,
  messageOf,
  playProgramme,
  remedyOf,
  type Chart,
  type Choices,
  type DrillOrder,
  type Key,
  type PlayedProgramme,
  type Programme,
} from '@fivespan/core';
import { planOf, prepare, type NoteStore, type Plan, type Schedule } from '@fivespan/sound/engine';
import { soundOf, type PieceSettings, type SentNote, type WindowDelivery } from '../../platform/audio/index.ts';
import type { Job } from '../../platform/workers/index.ts';
import { lessonOf } from '../open-lesson/lesson-job.ts';
import { copyOf, noteStore, settingsOf, windowOf } from '../sound/worker-side.ts';
import type { SoundSource } from '../sound/sound-source.ts';
import { windowBounds } from '../sound/windows.ts';
import { playedDrill } from './drill-piece.ts';
import { formViewOf, type FormView } from './form-view.ts';
import type { Piece } from './piece.ts';
import { SLOWEST_RATE } from './rates.ts';
import { SentNotes } from './sent-notes.ts';
import { withTake } from './take-piece.ts';

export interface ProgrammeOrder {
  readonly number: number;
  readonly chart: Chart;
  readonly choices: Choices;
  readonly programme: Programme;
  /** Played in the tune's place. */
  readonly drill?: DrillOrder | undefined;
  /** A take that is heard with it. */
  readonly take?: string | undefined;
}

/** What is shown of a programme; the forms of a tune are asked for one by one, a drill's come with it. */
export type ProgrammeOutline = Omit<Piece, 'forms'> & { readonly forms: Piece['forms'] | null };

/** The piece that is played, or will be: the last one asked for. */
interface WorkerPiece {
  readonly number: number;
  readonly schedule: Schedule;
  readonly sent: SentNotes;
  plan: Plan | undefined;
}

let piece: WorkerPiece | undefined;

/** Makes the notes of a programme. They stay here; what is shown of it is answered. */
export const programmeJob: Job<ProgrammeOrder, ProgrammeOutline> = async (
  { number, chart, choices, programme, drill, take },
  watch,
) => {
  if (drill !== undefined) {
    const made = playedDrill(chart, choices, drill, watch);
    return made === undefined ? undefined : { value: keptPiece(number, made.played, made.forms) };
  }
  let played: ReturnType<typeof playProgramme>;
  try {
    played = playProgramme(chart, choices, programme, watch);
  } catch (error) {
    const issue = issueOfFault(error, chart, (tried) => playProgramme(tried, choices, programme));
    throw new Error(`${messageOf(issue)}; ${remedyOf(issue)}`, { cause: error });
  }
  if (played === undefined) return undefined;
  return { value: keptPiece(number, take === undefined ? played : withTake(played, take), null) };
};

/** Keeps a piece here, and says what is shown of it. */
function keptPiece(number: number, played: PlayedProgramme, forms: Piece['forms'] | null): ProgrammeOutline {
  piece = { number, schedule: played, sent: new SentNotes(), plan: undefined };
  const { players, segments, endSeconds } = played;
  return { number, players, segments, endSeconds, forms };
}

export interface FormOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
}

/** What play view shows in one key. */
export const formJob: Job<FormOrder, FormView> = async (order) => ({ value: formViewOf(lessonOf(order)) });

export interface WindowOrder {
  readonly number: number;
  readonly source: SoundSource;
  readonly index: number;
  /** Windows that the deck has or will have: their notes stay there. */
  readonly kept: readonly number[];
}

/** A window, ready to be put on the deck. */
export interface MadeWindow {
  readonly settings: PieceSettings;
  readonly delivery: WindowDelivery;
}

/** Renders one window. Cancelled only together with its piece: what has been made here counts as sent. */
export const windowJob: Job<WindowOrder, MadeWindow> = async ({ number, source, index, kept }, watch) => {
  const store = await noteStore(source);
  await watch.breathe();
  const now = piece;
  if (now?.number !== number || watch.cancelled()) return undefined;
  now.plan ??= planOf(store, now.schedule, SLOWEST_RATE);
  await watch.breathe();
  const { plan, sent } = now;
  const bounds = windowBounds(index, now.schedule.endSeconds);
  const from = firstEvent(plan, bounds.fromSeconds);
  const to = firstEvent(plan, bounds.toSeconds);
  const prepared = prepare(store, plan, watch, from, to);
  if (prepared === undefined) return undefined;
  const names = namesOf(store, plan, from, to);
  const notes: SentNote[] = [];
  const numbers = prepared.notes.map((note, place) => {
    const bytes = note.left.byteLength + (note.right === note.left ? 0 : note.right.byteLength);
    const { number: sentNumber, isNew } = sent.use(names[place] ?? '', index, bytes);
    if (isNew) notes.push({ number: sentNumber, note: copyOf(note) });
    return sentNumber;
  });
  const delivery: WindowDelivery = {
    window: windowOf(prepared, { index, ...bounds }, (note) => numbers[note] ?? 0),
    notes,
    forgotten: sent.forget(new Set([...kept, index])),
  };
  return { value: { settings: settingsOf(prepared), delivery }, transfer: soundOf(delivery) };
};

/** The first event that begins at a place or later. */
function firstEvent({ events }: Plan, seconds: number): number {
  const found = events.findIndex(({ startSeconds }) => startSeconds >= seconds);
  return found < 0 ? events.length : found;
}

/** The names of the notes that events need, in the order in which they are first needed: as `prepare` lists them. */
function namesOf(store: NoteStore, { events, schedule }: Plan, from: number, to: number): string[] {
  const names = new Set<string>();
  for (const { player, midi, velocity } of events.slice(from, to)) {
    const instrument = schedule.players[player]?.instrument;
    const found = instrument === undefined ? undefined : store.lookUp(instrument, midi, velocity);
    if (found !== undefined) names.add(found.name);
  }
  return [...names];
}
