import { readFile } from 'node:fs/promises';
import { parentPort } from 'node:worker_threads';
import { issueOfFault, messageOf, playProgramme, remedyOf, type PlayedProgramme } from '@fivespan/core';
import { writeProgrammeMidi } from '@fivespan/formats/midi';
import type { SoundFormat } from '@fivespan/sound/encode';
import { scratchFile } from './scratch-file.ts';
import type { SoundMessage, SoundOrder } from './sound-order.ts';

const say = (message: SoundMessage): void => parentPort?.postMessage(message);

/** Hands a file over without copying it: one of 62 MB was in memory four times. Some pieces are cut out of one buffer. */
const hand = (message: Extract<SoundMessage, { kind: 'made' }>): void =>
  parentPort?.postMessage(message, [...new Set(message.parts.map((part) => part.buffer as ArrayBuffer))]);

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
  const store = new NoteStore(bank.value, order.sampleRate);
  const tags = { title: order.title, chapters: chaptersOf(played) };
  const scratch = scratchFile();
  const made = await soundFile(store, played, formatOf(kind, order.bits), tags, {}, told('sounding'), {
    scratch,
  });
  scratch?.close();
  if (made === undefined) return;
  hand({ kind: 'made', parts: made.parts, seconds: made.seconds, chapters: tags.chapters.length });
}

async function make(order: SoundOrder): Promise<void> {
  const { chart, choices, programme } = order;
  let played: PlayedProgramme | undefined;
  try {
    played = playProgramme(chart, choices, programme, told('playing'));
  } catch (error) {
    const issue = issueOfFault(error, chart, (tried) => playProgramme(tried, choices, programme));
    say({ kind: 'faults', messages: [`${messageOf(issue)}; ${remedyOf(issue)}`] });
    return;
  }
  if (played === undefined) return;
  if (order.kind !== 'mid') {
    await soundOf(order, order.kind, played);
    return;
  }
  const bytes = writeProgrammeMidi(order.title, played);
  const choruses = played.segments.filter((segment) => segment.kind === 'chorus').length;
  say({ kind: 'made', parts: [bytes], seconds: played.endSeconds, chapters: choruses });
}

// A rejection ends the worker with its error, which the command passes on.
parentPort?.once('message', (order: SoundOrder) => void make(order));
