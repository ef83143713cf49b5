import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parentPort } from 'node:worker_threads';
import {
  issueOfFault,
  makeDrill,
  messageOf,
  playDrill,
  playProgramme,
  remedyOf,
  type Chart,
  type PlayedProgramme,
} from '@fivespan/core';
import { writeProgrammeMidi } from '@fivespan/formats/midi';
import type { SoundFormat } from '@fivespan/sound/encode';
import { isFromSystem, reasonOf } from '../fault.ts';
import { FileOfSamples, GrowingFile } from './scratch-file.ts';
import type { SoundMessage, SoundOrder } from './sound-order.ts';

/** Rendered notes kept at a time: of the demo's trio four choruses' worth; more would hold more than it spares. */
const MOST_NOTE_BYTES = 96_000_000;

const NOTHING = new Uint8Array(0);

const say = (message: SoundMessage): void => parentPort?.postMessage(message);

/** Progress as messages, at most one for each hundredth of the way. Cancelling ends the whole worker. */
function told(what: 'playing' | 'sounding') {
  let last = -1;
  return {
    report: (done: number, total: number): void => {
      const hundredth = Math.floor((done * 100) / total);
      if (hundredth !== last) say({ kind: 'progress', what, done, total });
      last = hundredth;
    },
    cancelled: (): boolean => false,
  };
}

const formatOf = (kind: 'wav' | 'flac' | 'mp3', bits: 16 | 24): SoundFormat =>
  kind === 'mp3' ? { kind, bitrate: 192 } : { kind, bits };

/** Renders and encodes; the sound packages are loaded only now, so that a MIDI file never waits for them. */
async function soundOf(order: SoundOrder, kind: 'wav' | 'flac' | 'mp3', played: PlayedProgramme): Promise<void> {
  const [{ openBank }, { NoteStore }, { chaptersOf, soundFile }] = await Promise.all([
    import('@fivespan/sound/bank'),
    import('@fivespan/sound/engine'),
    import('@fivespan/sound/encode'),
  ]);
  const bank = await openBank(await readFile(order.bankFile), 'full');
  if (!bank.ok) {
    say({ kind: 'faults', messages: bank.issues.map((issue) => `${messageOf(issue)}; ${remedyOf(issue)}`) });
    return;
  }
  const store = new NoteStore(bank.value, order.sampleRate, MOST_NOTE_BYTES);
  const tags = { title: order.title, chapters: chaptersOf(played) };
  const scratch = new FileOfSamples(join(order.scratchFolder, 'samples'));
  const body = new GrowingFile(join(order.scratchFolder, 'body'));
  const keeping = { scratch, inMemorySeconds: 0, onPart: body.add };
  const made = await soundFile(store, played, formatOf(kind, order.bits), tags, {}, told('sounding'), keeping);
  scratch.close();
  body.close();
  if (made === undefined) return;
  const [head = NOTHING, tail = NOTHING] = made.parts;
  const bytes = head.length + body.bytes + tail.length;
  say({ kind: 'made', head, body: body.path, tail, bytes, seconds: made.seconds, chapters: tags.chapters.length });
}

/** The tune, or the drill in its place, played; undefined where there is nothing of it. */
function playedOf({ choices, programme, drill }: SoundOrder, chart: Chart): PlayedProgramme | undefined {
  if (drill === undefined) return playProgramme(chart, choices, programme, told('playing'));
  const made = makeDrill(chart, choices, drill);
  return made.ok ? playDrill(made.value, programme, told('playing')) : undefined;
}

async function make(order: SoundOrder): Promise<void> {
  const { chart } = order;
  let played: PlayedProgramme | undefined;
  try {
    played = playedOf(order, chart);
  } catch (error) {
    const issue = issueOfFault(error, chart, (tried) => playedOf(order, tried));
    say({ kind: 'faults', messages: [`${messageOf(issue)}; ${remedyOf(issue)}`] });
    return;
  }
  if (played === undefined) return;
  if (order.kind !== 'mid') {
    await soundOf(order, order.kind, played);
    return;
  }
  const head = writeProgrammeMidi(order.title, played);
  const choruses = played.segments.filter((segment) => segment.kind === 'chorus').length;
  const body = new GrowingFile(join(order.scratchFolder, 'body'));
  body.close();
  say({
    kind: 'made',
    head,
    body: body.path,
    tail: NOTHING,
    bytes: head.length,
    seconds: played.endSeconds,
    chapters: choruses,
  });
}

/** What the system says where temporary files cannot be written; anything else is a fault of ours. */
async function makeOrTell(order: SoundOrder): Promise<void> {
  try {
    await make(order);
  } catch (error) {
    if (!isFromSystem(error)) throw error;
    say({ kind: 'faults', messages: [`temporary files cannot be written: ${reasonOf(error)}`] });
  }
}

// A rejection ends the worker with its error, which the command passes on.
parentPort?.once('message', (order: SoundOrder) => void makeOrTell(order));
