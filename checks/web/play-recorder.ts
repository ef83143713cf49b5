/**
 * Records what a page gives to the loudspeaker, and what it shows meanwhile. Whatever is connected to the destination is heard
 * beside it by an audio worklet of ours, which says of every block which frames of the audio clock it is.
 */
import type { BrowserContext, Page } from 'playwright-core';

/** Recorded sound: blocks in order, each from a frame of the audio clock on. */
export interface Recording {
  readonly sampleRate: number;
  readonly blocks: readonly { readonly frame: number; readonly left: Float32Array; readonly right: Float32Array }[];
}

/** What stood on the screen in one frame, and the moment of the audio clock that was heard then. */
export interface ShownFrame {
  readonly heardSeconds: number;
  readonly thumb: string;
  readonly next: string;
  readonly bar: string;
}

interface PageRecorder {
  rate: number;
  /** The page's audio clock. */
  clock?: AudioContext;
  blocks: { frame: number; left: Float32Array; right: Float32Array }[];
  frames: ShownFrame[];
}

/** Sixteen blocks at a time, with the number of their first frame. */
const WORKLET_SCRIPT = `
registerProcessor('recorder', class extends AudioWorkletProcessor {
  constructor() { super(); this.at = 0; this.renew(); }
  renew() { this.left = new Float32Array(2048); this.right = new Float32Array(2048); }
  process([[left, right = left]]) {
    if (this.at === 0) this.frame = currentFrame;
    if (left !== undefined) { this.left.set(left, this.at); this.right.set(right, this.at); }
    this.at += 128;
    if (this.at === 2048) {
      this.port.postMessage({ frame: this.frame, left: this.left, right: this.right }, [this.left.buffer, this.right.buffer]);
      this.renew();
      this.at = 0;
    }
    return true;
  }
});`;

/** What a context needs to be recorded: the recorder is a blob, which the workbench's own policy rightly refuses. */
export const RECORDABLE = { bypassCSP: true, serviceWorkers: 'block' } as const;

/** Records in every page of a context from now on. */
export async function recordSound(context: BrowserContext): Promise<void> {
  await context.addInitScript((script) => {
    const kept: PageRecorder = { rate: 0, blocks: [], frames: [] };
    Object.assign(globalThis, { fivespanRecorder: kept });
    const connect = Reflect.get(AudioNode.prototype, 'connect') as (...rest: unknown[]) => unknown;
    let clock: AudioContext | undefined;
    const record = async (node: AudioNode, context: AudioContext): Promise<void> => {
      clock = context;
      kept.clock = context;
      kept.rate = context.sampleRate;
      await context.audioWorklet.addModule(URL.createObjectURL(new Blob([script], { type: 'text/javascript' })));
      const recorder = new AudioWorkletNode(context, 'recorder', { channelCount: 2, channelCountMode: 'explicit' });
      recorder.port.addEventListener('message', ({ data }: MessageEvent<PageRecorder['blocks'][number]>) =>
        kept.blocks.push(data),
      );
      recorder.port.start();
      connect.call(node, recorder);
      // silent, but what leads nowhere is not computed
      connect.call(recorder, context.destination);
    };
    AudioNode.prototype.connect = function (this: AudioNode, ...rest: unknown[]): never {
      if (rest[0] instanceof AudioDestinationNode && this.context instanceof AudioContext)
        void record(this, this.context);
      return connect.apply(this, rest) as never;
    } as never;
    const text = (name: string): string => document.querySelector(`[data-${name}]`)?.textContent ?? '';
    const after = new MessageChannel();
    // behind the frame's own work: what is read now is what is painted
    after.port1.addEventListener('message', () => {
      if (clock === undefined || clock.state !== 'running') return;
      const { contextTime = 0, performanceTime = 0 } = clock.getOutputTimestamp();
      kept.frames.push({
        heardSeconds: Math.min(clock.currentTime, contextTime + (performance.now() - performanceTime) / 1000),
        thumb: text('thumb-now'),
        next: text('thumb-next'),
        bar: text('bar-now'),
      });
    });
    after.port1.start();
    requestAnimationFrame(function frame() {
      requestAnimationFrame(frame);
      after.port2.postMessage(null);
    });
  }, WORKLET_SCRIPT);
}

/** What was recorded so far. */
export async function recordingOf(page: Page): Promise<Recording> {
  const { rate, blocks } = await page.evaluate(() => {
    const { rate, blocks } = (globalThis as unknown as { fivespanRecorder: PageRecorder }).fivespanRecorder;
    const text = (samples: Float32Array): string => {
      const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
      let binary = '';
      for (const byte of bytes) binary += String.fromCharCode(byte);
      return btoa(binary);
    };
    return {
      rate,
      blocks: blocks.map(({ frame, left, right }) => ({ frame, left: text(left), right: text(right) })),
    };
  });
  const samples = (text: string): Float32Array => {
    const bytes = Buffer.from(text, 'base64');
    return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  };
  return {
    sampleRate: rate,
    blocks: blocks.map(({ frame, left, right }) => ({ frame, left: samples(left), right: samples(right) })),
  };
}

/** What was shown so far, frame by frame. */
export function shownFrames(page: Page): Promise<readonly ShownFrame[]> {
  return page.evaluate(() => (globalThis as unknown as { fivespanRecorder: PageRecorder }).fivespanRecorder.frames);
}

/** Forgets what was recorded and shown. */
export function forgetRecorded(page: Page): Promise<void> {
  return page.evaluate(() => {
    const kept = (globalThis as unknown as { fivespanRecorder: PageRecorder }).fivespanRecorder;
    kept.blocks = [];
    kept.frames = [];
  });
}

/** The frame of the audio clock at which a recording first sounds; undefined where it is silent. */
export function firstSound({ blocks }: Recording): number | undefined {
  for (const { frame, left, right } of blocks) {
    const at = left.findIndex((sample, index) => sample !== 0 || right[index] !== 0);
    if (at >= 0) return frame + at;
  }
  return undefined;
}

/** The loudest sample from one frame of the audio clock on, up to another. */
export function peakBetween({ blocks }: Recording, from: number, to: number): number {
  let peak = 0;
  for (const { frame, left } of blocks) {
    for (let index = Math.max(0, from - frame); index < Math.min(left.length, to - frame); index++) {
      peak = Math.max(peak, Math.abs(left[index] ?? 0));
    }
  }
  return peak;
}
