import { planOf, prepare, type Schedule } from '@fivespan/sound/engine';
import { soundOf, type PieceSettings, type WindowDelivery } from '../../platform/audio/index.ts';
import type { Job } from '../../platform/workers/index.ts';
import type { HeardNote } from './hear.ts';
import { copyOf, noteStore, settingsOf, windowOf } from './worker-side.ts';
import type { SoundSource } from './sound-source.ts';

export interface HearOrder {
  readonly source: SoundSource;
  readonly notes: readonly HeardNote[];
}

/** A short piece, whole. */
export interface HeardPiece {
  readonly piece: PieceSettings;
  readonly delivery: WindowDelivery;
}

/** Renders a few notes. */
export const hearJob: Job<HearOrder, HeardPiece> = async ({ source, notes }, watch) => {
  const store = await noteStore(source);
  await watch.breathe();
  const prepared = prepare(store, planOf(store, scheduleOf(notes)), watch);
  if (prepared === undefined) return undefined;
  const window = windowOf(prepared, { index: 0, fromSeconds: 0, toSeconds: prepared.endSeconds }, (note) => note);
  const delivery = {
    window,
    notes: prepared.notes.map((note, number) => ({ number, note: copyOf(note) })),
    forgotten: [],
  };
  return { value: { piece: settingsOf(prepared), delivery }, transfer: soundOf(delivery) };
};

function scheduleOf(notes: readonly HeardNote[]): Schedule {
  const instruments = [...new Set(notes.map(({ instrument = 'grand' }) => instrument))];
  return {
    players: instruments.map((instrument) => ({ name: instrument, instrument, pan: 0, level: 1 })),
    events: notes.map(({ instrument = 'grand', ...note }) => ({ ...note, player: instruments.indexOf(instrument) })),
    endSeconds: notes.reduce((end, note) => Math.max(end, note.startSeconds + note.durationSeconds), 0),
  };
}
