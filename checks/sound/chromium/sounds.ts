/** What the check of Chromium renders, the same in Node, in a page and in an audio worklet: no host's types here. */
import { openBank, type Bank, type InstrumentId } from '@fivespan/sound/bank';
import {
  BLOCK_FRAMES,
  planOf,
  prepare,
  renderPart,
  SoundEngine,
  Synthesizer,
  type NoteStore,
  type PlayedEvent,
  type Prepared,
  type Schedule,
  type StereoSound,
} from '@fivespan/sound/engine';

export const SAMPLE_RATE = 44_100;

/** 3.2 s in whole blocks. */
export const FRAMES = Math.ceil((3.2 * SAMPLE_RATE) / BLOCK_FRAMES) * BLOCK_FRAMES;

const INSTRUMENTS: readonly InstrumentId[] = [
  'grand',
  'tine electric piano',
  'vibraphone',
  'acoustic bass',
  'standard kit',
  'jazz kit',
  'brush kit',
];

/** Keys of a kit that every kit has: bass drum, snare, closed and open hi-hat, ride (General MIDI's drum map). */
const DRUMS = [36, 38, 42, 46, 42, 51];
const CHORD = [55, 60, 64, 67, 71, 74];

/** Every instrument from soft to loud, over one another, held and short, one of them left and one right of the middle. */
export const SCHEDULE: Schedule = {
  players: INSTRUMENTS.map((instrument, index) => ({
    name: instrument,
    instrument,
    pan: [0, -0.3, 0.3][index % 3] ?? 0,
    level: 0.5 + index / 10,
  })),
  events: INSTRUMENTS.flatMap((instrument, player) =>
    Array.from({ length: 6 }, (_, turn): PlayedEvent => {
      const key = (instrument.endsWith('kit') ? DRUMS : CHORD)[turn] ?? 60;
      return {
        player,
        startSeconds: turn * 0.4 + player * 0.0531,
        durationSeconds: turn % 2 === 0 ? 0.11 : 0.9,
        midi: instrument === 'acoustic bass' ? key - 24 : key,
        velocity: 1 + turn * 24 + player,
      };
    }),
  ),
  endSeconds: FRAMES / SAMPLE_RATE,
};

export async function bankOf(bytes: Uint8Array): Promise<Bank> {
  const opened = await openBank(bytes, 'web');
  if (!opened.ok) throw new Error(JSON.stringify(opened.issues));
  return opened.value;
}

const must = <T>(value: T | undefined): T => {
  if (value === undefined) throw new Error('nobody cancelled this');
  return value;
};

/** As a file is rendered. */
export function renderedSchedule(store: NoteStore): StereoSound {
  return must(renderPart(store, SCHEDULE, 0, FRAMES));
}

/** As it is handed to an audio thread. */
export function preparedSchedule(store: NoteStore): Prepared {
  return must(prepare(store, planOf(store, SCHEDULE)));
}

/** The audio thread's part: the schedule, and live notes of the grand on given blocks. Called once a block. */
export class Playing {
  readonly #engine: SoundEngine;
  #block = 0;

  constructor(bank: Bank, prepared: Prepared) {
    this.#engine = new SoundEngine(SAMPLE_RATE, new Synthesizer(bank, SAMPLE_RATE));
    this.#engine.load(prepared);
    this.#engine.play();
  }

  next(left: Float32Array, right: Float32Array): void {
    const block = this.#block++;
    if (block === 100) this.#engine.noteOn('grand', 48, 90);
    if (block === 250) this.#engine.noteOn('grand', 84, 40);
    if (block === 500) this.#engine.noteOff('grand', 48);
    this.#engine.process(left, right);
  }
}
