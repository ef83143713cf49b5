/**
 * A programme's sound file, made in many short jobs: between two of them the worker does what a hand waits for. What is half made
 * stays in the worker under a number; a worker that was ended has lost it.
 */
import { playProgramme, type Chart, type Choices, type PlayedProgramme, type Programme } from '@fivespan/core';
import { writeProgrammeMidi } from '@fivespan/formats/midi';
import { openBank, type Bank } from '@fivespan/sound/bank';
import { chaptersOf, soundFileSteps, type SoundFile } from '@fivespan/sound/encode';
import { NoteStore, type RenderStep } from '@fivespan/sound/engine';
import { fetchBytes } from '../../platform/assets/index.ts';
import type { Job } from '../../platform/workers/index.ts';
import { soundFormat, type EncodedKind } from './sound-formats.ts';

/** A kind of sound file: as in packages/sound, or the notes alone. */
export type SoundKind = EncodedKind | 'mid';

export interface SoundFileOrder {
  /** Under which what is half made is kept; never used again. */
  readonly number: number;
  readonly chart: Chart;
  readonly choices: Choices;
  readonly programme: Programme;
  readonly kind: SoundKind;
  readonly title: string;
  readonly bankUrl: string;
}

/** What a job has done: so far, or all of it. */
export type SoundFileProgress =
  | { readonly kind: 'so far'; readonly done: number; readonly total: number }
  | { readonly kind: 'made'; readonly bytes: Uint8Array };

/** As the command line has it unless told. */
const SAMPLE_RATE = 44_100;

/** Rendered notes that are kept while a file is made: they are the program's largest thing. */
const STORE_BYTES = 96_000_000;

/** Steps of one job: together about a tenth of a second (see packages/sound: a step is some thousandths). */
const STEPS_A_JOB = 24;

interface HalfMade {
  readonly steps: Generator<RenderStep, SoundFile, undefined>;
}

const halfMade = new Map<number, HalfMade>();

let opening: Promise<Bank> | undefined;

/** The bank, opened once: decoded recordings stay with it. */
function bankAt(url: string): Promise<Bank> {
  opening ??= (async () => {
    const bank = await openBank(await fetchBytes(url), 'web');
    if (!bank.ok) throw new Error(bank.issues[0]?.code ?? 'sound.bank-unreadable');
    return bank.value;
  })();
  opening.catch(() => {
    opening = undefined;
  });
  return opening;
}

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

async function begin(order: SoundFileOrder, kind: EncodedKind, played: PlayedProgramme): Promise<HalfMade> {
  const store = new NoteStore(await bankAt(order.bankUrl), SAMPLE_RATE, STORE_BYTES);
  const tags = { title: order.title, chapters: chaptersOf(played) };
  return { steps: await soundFileSteps(store, played, await soundFormat(kind), tags) };
}

/** Plays the programme and gets everything ready; a MIDI file is then made already. */
export const beginSoundJob: Job<SoundFileOrder, SoundFileProgress> = async (order, watch) => {
  const played = playProgramme(order.chart, order.choices, order.programme, watch);
  if (played === undefined) return undefined;
  if (order.kind === 'mid') return { value: { kind: 'made', bytes: writeProgrammeMidi(order.title, played) } };
  const made = await begin(order, order.kind, played);
  await watch.breathe();
  if (watch.cancelled()) return undefined;
  halfMade.set(order.number, made);
  return { value: { kind: 'so far', done: 0, total: 1 } };
};

/** Goes on with a file a little. */
export const goOnSoundJob: Job<number, SoundFileProgress> = async (number) => {
  const half = halfMade.get(number);
  if (half === undefined) throw new Error('what was half made is gone');
  let last: RenderStep = { done: 0, total: 1 };
  for (let step = 0; step < STEPS_A_JOB; step++) {
    const next = half.steps.next();
    if (next.done === true) {
      halfMade.delete(number);
      const bytes = joined(next.value.parts);
      return { value: { kind: 'made', bytes }, transfer: [bytes.buffer] };
    }
    last = next.value;
  }
  return { value: { kind: 'so far', ...last } };
};

/** Forgets what is half made: it is not wanted any more. */
export const dropSoundJob: Job<number, true> = async (number) => {
  halfMade.delete(number);
  return { value: true };
};
