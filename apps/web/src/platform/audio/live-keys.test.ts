/** The audio thread's own file, run here with its globals stood in for: what it does when a keyboard is made ready. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { decodeAll, openBank, recordingsOf, type Bank } from '@fivespan/sound/bank';
import { SoundEngine, Synthesizer } from '@fivespan/sound/engine';
import { BasicSample } from 'spessasynth_core';
import { beforeAll, expect, test, vi } from 'vitest';
// @ts-expect-error a build script in plain JavaScript
import { ensureBank } from '../../../../../tools/bank.mjs';
import type { AudioOrder, AudioReport } from './messages.ts';

const RATE = 48_000;
const BLOCK = 128;
let file: Buffer;
const bytes = (): Uint8Array => Uint8Array.from(file);

interface Processor {
  process(inputs: Float32Array[][], outputs: Float32Array[][]): boolean;
}

const page = new MessageChannel();
const reports: AudioReport[] = [];
let processor: Processor;
let elsewhere: Bank;

async function opened(): Promise<Bank> {
  const bank = await openBank(bytes(), 'web');
  if (!bank.ok) throw new Error('the bank must be there');
  return bank.value;
}

beforeAll(async () => {
  // made where it is missing: on a fresh clone nobody has cut it yet
  const root = fileURLToPath(import.meta.resolve('../../../../../'));
  file = readFileSync((await (ensureBank as (root: string) => Promise<{ web: string }>)(root)).web);
  elsewhere = await opened();
  vi.stubGlobal(
    'AudioWorkletProcessor',
    class {
      readonly port = page.port2;
    },
  );
  vi.stubGlobal('registerProcessor', (_name: string, kind: new () => Processor) => (processor = new kind()));
  vi.stubGlobal('sampleRate', RATE);
  vi.stubGlobal('currentTime', 0);
  page.port1.addEventListener('message', ({ data }: MessageEvent<AudioReport>) => reports.push(data));
  page.port1.start();
  await import('./worklet.ts');
});

const send = (order: AudioOrder): void => page.port1.postMessage(order);
function block(): Float32Array {
  const output = [new Float32Array(BLOCK), new Float32Array(BLOCK)];
  processor.process([], [output]);
  return output[0]!;
}
const isReady = (): boolean => reports.some(({ kind }) => kind === 'live');

test('a keyboard made ready while something plays decodes nothing, opens nothing before silence, then sounds as it should', async () => {
  const decoding = vi.spyOn(BasicSample.prototype as unknown as { decodeVorbis: () => void }, 'decodeVorbis');
  // a silent piece: the deck plays all the same
  const none = { startSeconds: new Float64Array(), leftSeconds: new Float64Array(), note: new Int32Array() };
  const window = {
    index: 0,
    fromSeconds: 0,
    toSeconds: 9,
    player: new Int32Array(),
    gainLeft: new Float32Array(),
    gainRight: new Float32Array(),
    ...none,
  };
  const piece = { playerCount: 1, balance: Float64Array.of(1), endSeconds: 9, slowestRate: 1 };
  send({ kind: 'deck', deck: 'programme', order: { kind: 'begin', number: 1, piece } });
  send({ kind: 'deck', deck: 'programme', order: { kind: 'put', delivery: { window, notes: [], forgotten: [] } } });
  send({ kind: 'deck', deck: 'programme', order: { kind: 'play' } });
  await vi.waitFor(() => {
    block();
    expect(reports.some((each) => each.kind === 'deck' && each.report.state === 'playing')).toBe(true);
  });

  const recordings = recordingsOf(elsewhere, 'grand').map((each) => each.getAudioData().slice());
  decoding.mockClear();
  send({ kind: 'live bank', bytes: bytes() });
  for (const [place, samples] of recordings.entries()) send({ kind: 'live recording', recording: { place, samples } });
  await new Promise((resolve) => setTimeout(resolve, 200));
  block();
  expect(isReady()).toBe(false);

  send({ kind: 'deck', deck: 'programme', order: { kind: 'pause' } });
  await vi.waitFor(() => {
    block();
    expect(isReady()).toBe(true);
  }, 5000);
  send({ kind: 'note on', midi: 60, velocity: 100 });
  let first = block();
  await vi.waitFor(() => {
    first = block();
    expect(first.some((sample) => sample !== 0)).toBe(true);
  });
  const sound = [first, ...Array.from({ length: 100 }, block)];
  expect(decoding).not.toHaveBeenCalled();

  // the same key on a synthesizer that decoded its bank itself
  decodeAll(elsewhere);
  const engine = new SoundEngine(RATE, new Synthesizer(elsewhere, RATE));
  engine.noteOn('grand', 60, 100);
  for (const heard of sound) {
    const wanted = new Float32Array(BLOCK);
    engine.process(wanted, new Float32Array(BLOCK));
    expect(heard).toEqual(wanted);
  }
});
