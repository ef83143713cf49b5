/** Runs in a page of Chromium: renders there, and has its audio worklet render; tells the hashes. */
import { NoteStore } from '@fivespan/sound/engine';
import { bankOf, FRAMES, preparedSchedule, renderedSchedule, SAMPLE_RATE } from './sounds.ts';

/** SHA-256 of left samples, then right ones, as they lie in memory. */
async function hash(left: Float32Array, right: Float32Array): Promise<string> {
  const both = new Float32Array(left.length + right.length);
  both.set(left);
  both.set(right, left.length);
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', both));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function hashes(): Promise<{ readonly page: string; readonly worklet: string }> {
  const bytes = new Uint8Array(await (await fetch('/bank')).arrayBuffer());
  const store = new NoteStore(await bankOf(bytes), SAMPLE_RATE);
  const { left, right } = renderedSchedule(store);
  const context = new OfflineAudioContext(2, FRAMES, SAMPLE_RATE);
  // as a blob: what a worklet asks for passes by the check's own answers
  const module = URL.createObjectURL(await (await fetch('/worklet.js')).blob());
  await context.audioWorklet.addModule(module);
  const node = new AudioWorkletNode(context, 'fivespan-check', {
    numberOfInputs: 0,
    outputChannelCount: [2],
    processorOptions: { bytes, prepared: preparedSchedule(store) },
  });
  const said = await new Promise<unknown>((resolve) => {
    node.port.addEventListener('message', ({ data }) => resolve(data));
    node.addEventListener('processorerror', () => resolve('the processor failed'));
    node.port.start();
  });
  if (said !== 'ready') throw new Error(String(said));
  node.connect(context.destination);
  const played = await context.startRendering();
  return {
    page: await hash(left, right),
    worklet: await hash(played.getChannelData(0), played.getChannelData(1)),
  };
}

Object.assign(globalThis, { hashes });
