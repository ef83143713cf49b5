import { playProgramme, type Chart, type Choices, type Programme } from '@fivespan/core';
import { writeProgrammeMidi } from '@fivespan/formats/midi';
import { openBank, type Bank } from '@fivespan/sound/bank';
import { chaptersOf, soundFileSteps, type SoundFile } from '@fivespan/sound/encode';
import { NoteStore, type RenderStep } from '@fivespan/sound/engine';
import { fetchBytes } from '../../platform/assets/index.ts';
import { piecewiseJobs, type PieceSteps } from './piecewise-job.ts';
import { soundFormat, type EncodedKind } from './sound-formats.ts';

/** A kind of sound file: as in packages/sound, or the notes alone. */
export type SoundKind = EncodedKind | 'mid';

export interface SoundFileOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly programme: Programme;
  readonly kind: SoundKind;
  readonly title: string;
  readonly bankUrl: string;
}

/** As the command line has it unless told. */
const SAMPLE_RATE = 44_100;

/** Rendered notes that are kept while a file is made: they are the program's largest thing. */
const STORE_BYTES = 96_000_000;

/** Together about a tenth of a second (see packages/sound: a step is some thousandths). */
const STEPS_A_JOB = 24;

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

function* bytesOf(steps: Generator<RenderStep, SoundFile, undefined>): PieceSteps {
  return joined((yield* steps).parts);
}

// oxlint-disable-next-line require-yield -- made at once: there is nothing to wait for
function* ready(bytes: Uint8Array): PieceSteps {
  return bytes;
}

/** Makes a programme's sound file: first it is played, then it sounds, bit by bit. */
export const soundFileJobs = piecewiseJobs<SoundFileOrder>(async (order, watch) => {
  const { chart, choices, programme, kind, title, bankUrl } = order;
  const played = playProgramme(chart, choices, programme, watch);
  if (played === undefined) return undefined;
  if (kind === 'mid') return ready(writeProgrammeMidi(title, played));
  const store = new NoteStore(await bankAt(bankUrl), SAMPLE_RATE, STORE_BYTES);
  const tags = { title, chapters: chaptersOf(played) };
  return bytesOf(await soundFileSteps(store, played, await soundFormat(kind), tags));
}, STEPS_A_JOB);
