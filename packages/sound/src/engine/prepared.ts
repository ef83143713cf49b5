import { UNWATCHED, type Progress } from '@fivespan/core';
import type { NoteStore } from './note-store.ts';
import { SILENCE, type NoteUse, type RenderedNote } from './rendered-note.ts';
import { audibleFrames } from './release.ts';
import { instrumentOf } from '../bank/index.ts';
import { checkSchedule, type PlayedEvent, type Schedule } from './schedule.ts';

/**
 * A schedule ready to be mixed: every note rendered, everything in arrays, so that mixing neither decodes nor allocates.
 * Events ascend by start. Made where there is time (a worker), handed to where there is none (the audio thread).
 */
export interface Prepared {
  readonly sampleRate: number;
  readonly endSeconds: number;
  readonly playerCount: number;
  readonly startSeconds: Float64Array;
  /** When each note is left; Infinity on a kit, whose drums ring as long as they will. */
  readonly leftSeconds: Float64Array;
  /** Index into `notes`. */
  readonly note: Int32Array;
  readonly player: Int32Array;
  readonly gainLeft: Float32Array;
  readonly gainRight: Float32Array;
  /** Right gain over left, by player. */
  readonly balance: Float64Array;
  readonly notes: readonly RenderedNote[];
  /** The slowest rate at which the rendered notes are long enough. */
  readonly slowestRate: number;
}

/** Events of a schedule in the order they are mixed, with the longest time each of their notes is needed. */
export interface Plan {
  readonly schedule: Schedule;
  readonly events: readonly PlayedEvent[];
  /** Frames that are enough of a rendered note, by its name, however loud it is. */
  readonly needed: ReadonlyMap<string, number>;
  /** All the ways in which a rendered note is used, by its name: its length is found from these. */
  readonly uses: ReadonlyMap<string, readonly NoteUse[]>;
  readonly slowestRate: number;
}

/** How loud the whole is: without it a trio is far under what other programs play. Measured: peaks near 0.7 at this gain. */
export const MASTER_GAIN = 2.6;

/**
 * Puts a schedule in order and finds how long each of its notes must be. A plan covers the whole piece, so that parts of it
 * rendered side by side get the very same notes.
 * @param slowestRate notes are made long enough for a tempo down to this share of the schedule's
 */
export function planOf(store: NoteStore, schedule: Schedule, slowestRate = 1): Plan {
  checkSchedule(schedule);
  if (!(slowestRate >= 0.1 && slowestRate <= 1))
    throw new RangeError(`slowestRate must be 0.1 to 1, not ${slowestRate}`);
  const events = schedule.events.toSorted((a, b) => a.startSeconds - b.startSeconds);
  const needed = new Map<string, number>();
  const uses = new Map<string, NoteUse[]>();
  const loudest = schedule.players.map(({ pan, level }) => Math.max(...sides(pan)) * level);
  for (const event of events) {
    const instrument = instrumentFor(schedule, event);
    const found = store.lookUp(instrument, event.midi, event.velocity);
    if (found === undefined) continue;
    // A note peaks below full scale: after the release from there it is silent whatever its level.
    const held = (soundingSeconds(schedule, event) / slowestRate) * store.sampleRate;
    const frames = Math.min(store.longestFrames, Math.ceil(held) + audibleFrames(found.release, 1, SILENCE) + 1);
    needed.set(found.name, Math.max(needed.get(found.name) ?? 0, frames));
    const use = { heldFrames: held, gain: found.gain * (loudest[event.player] as number) * MASTER_GAIN };
    const others = uses.get(found.name);
    if (others === undefined) uses.set(found.name, [use]);
    else others.push(use);
  }
  return { schedule, events, needed, uses, slowestRate };
}

function instrumentFor({ players }: Schedule, event: PlayedEvent): Schedule['players'][number]['instrument'] {
  const setting = players[event.player];
  if (setting === undefined) throw new RangeError(`player must be an index into players, not ${event.player}`);
  return setting.instrument;
}

/** How long a note is held: on a kit without end, for nobody damps a drum when its written length is over. */
function soundingSeconds(schedule: Schedule, event: PlayedEvent): number {
  return instrumentOf(instrumentFor(schedule, event)).isKit ? Infinity : event.durationSeconds;
}

/** Equal power between the sides, 1 on both in the middle. */
function sides(pan: number): readonly [left: number, right: number] {
  const angle = ((pan + 1) * Math.PI) / 4;
  return pan === 0 ? [1, 1] : [Math.SQRT2 * Math.cos(angle), Math.SQRT2 * Math.sin(angle)];
}

/**
 * Renders what a part of a plan needs and lays it out for mixing. Keys on which an instrument has no sound are left out.
 * @param from first event, @param to event after the last: all of them by default
 * @returns undefined when cancelled
 */
export function prepare(
  store: NoteStore,
  plan: Plan,
  progress: Progress = UNWATCHED,
  from = 0,
  to = plan.events.length,
): Prepared | undefined {
  const { schedule, uses, slowestRate } = plan;
  const chosen: { event: PlayedEvent; note: number; gain: number }[] = [];
  const notes: RenderedNote[] = [];
  const indexOf = new Map<string, number>();
  for (let index = from; index < to; index++) {
    if (progress.cancelled()) return undefined;
    const event = plan.events[index] as PlayedEvent;
    const instrument = instrumentFor(schedule, event);
    const found = store.lookUp(instrument, event.midi, event.velocity);
    if (found !== undefined) {
      let note = indexOf.get(found.name);
      if (note === undefined) {
        const stored = store.note(instrument, event.midi, event.velocity, uses.get(found.name) ?? []);
        if (stored === undefined) throw new Error(`${found.name} was planned and cannot be rendered`);
        note = notes.push(stored.rendered) - 1;
        indexOf.set(found.name, note);
      }
      chosen.push({ event, note, gain: found.gain });
    }
    progress.report(index - from + 1, to - from);
  }
  const settings = schedule.players.map(({ pan, level }) => ({ sides: sides(pan), level }));
  const gain = (side: 0 | 1) => (each: (typeof chosen)[number]) => {
    const setting = settings[each.event.player] as (typeof settings)[number];
    return each.gain * setting.level * setting.sides[side] * MASTER_GAIN;
  };
  return {
    sampleRate: store.sampleRate,
    endSeconds: schedule.endSeconds,
    playerCount: schedule.players.length,
    startSeconds: Float64Array.from(chosen, ({ event }) => event.startSeconds),
    leftSeconds: Float64Array.from(chosen, ({ event }) => event.startSeconds + soundingSeconds(schedule, event)),
    note: Int32Array.from(chosen, ({ note }) => note),
    player: Int32Array.from(chosen, ({ event }) => event.player),
    gainLeft: Float32Array.from(chosen, gain(0)),
    gainRight: Float32Array.from(chosen, gain(1)),
    balance: Float64Array.from(settings, ({ sides: [left, right] }) => right / left),
    notes,
    slowestRate,
  };
}
