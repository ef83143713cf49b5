import { planOf, prepare, type Schedule } from '@fivespan/sound/engine';
import { soundOf, type PieceSettings, type WindowDelivery } from '../../platform/audio/index.ts';
import type { Job } from '../../platform/workers/index.ts';
import { instrumentOf, type HeardNote } from './heard-note.ts';
import { windowBounds } from './windows.ts';
import { copyOf, noteStore, settingsOf, windowOf } from './worker-side.ts';
import type { SoundSource } from './sound-source.ts';

/** A window of what is to be heard. */
export interface HearOrder {
  readonly source: SoundSource;
  readonly index: number;
  /** Those that begin in it. */
  readonly notes: readonly HeardNote[];
  /** Of the whole: all its instruments, and where it ends. */
  readonly instruments: readonly ReturnType<typeof instrumentOf>[];
  readonly endSeconds: number;
  /** Number of the window's first note. */
  readonly firstNumber: number;
}

export interface HeardWindow {
  readonly piece: PieceSettings;
  readonly delivery: WindowDelivery;
}

/** Renders a few notes. */
export const hearJob: Job<HearOrder, HeardWindow> = async (order, watch) => {
  const { source, index, endSeconds, firstNumber } = order;
  const store = await noteStore(source);
  await watch.breathe();
  const prepared = prepare(store, planOf(store, scheduleOf(order)), watch);
  if (prepared === undefined) return undefined;
  const numberOf = (note: number): number => firstNumber + note;
  const delivery = {
    window: windowOf(prepared, { index, ...windowBounds(index, endSeconds) }, numberOf),
    notes: prepared.notes.map((note, place) => ({ number: numberOf(place), note: copyOf(note) })),
    forgotten: [],
  };
  return { value: { piece: settingsOf(prepared), delivery }, transfer: soundOf(delivery) };
};

function scheduleOf({ notes, instruments, endSeconds }: HearOrder): Schedule {
  return {
    players: instruments.map((instrument) => ({ name: instrument, instrument, pan: 0, level: 1 })),
    events: notes.map(({ startSeconds, durationSeconds, midi, velocity, ...note }) => ({
      startSeconds,
      durationSeconds,
      midi,
      velocity,
      player: instruments.indexOf(instrumentOf(note)),
    })),
    endSeconds,
  };
}
