import { UNWATCHED, type Progress } from '@fivespan/core';
import {
  renderSteps,
  type NoteStore,
  type RenderOptions,
  type RenderStep,
  type Schedule,
  type SoundSink,
} from '../engine/index.ts';
import type { SoundEncoder } from './encoder.ts';
import { flacEncoder } from './flac.ts';
import { Limiter } from './limiter.ts';
import { LoudnessMeter } from './loudness.ts';
import { mp3Encoder, type Mp3Bitrate } from './mp3.ts';
import type { BitDepth } from './pcm.ts';
import type { SoundTags } from './tags.ts';
import { samplesEncoder } from './samples.ts';
import { wavEncoder } from './wav.ts';

/** A kind of sound file. */
export type SoundFormat =
  | { readonly kind: 'wav'; readonly bits: BitDepth }
  | { readonly kind: 'flac'; readonly bits: BitDepth }
  | {
      readonly kind: 'mp3';
      readonly bitrate: Mp3Bitrate;
      /** The encoder's WebAssembly (wasm-media-encoders/wasm/mp3), where a content policy forbids it to fetch the one inside it. */
      readonly program?: Uint8Array;
    }
  /** No file: the samples themselves, left and right in turn as 32-bit floats of this machine's order, for another encoder. */
  | { readonly kind: 'samples' };

/** How loud every file is. From memory: what streaming services bring music to is between −14 and −16 LUFS. */
export const TARGET_LUFS = -16;

/** No sample gets louder than this: 1.5 dB below full scale leaves room for what decoders and converters add between samples. */
const CEILING = 10 ** (-1.5 / 20);

/** Quietest and loudest correction, so that a nearly silent piece is not blown up into noise. */
const LOWEST_GAIN = 0.05;
const HIGHEST_GAIN = 20;

/**
 * A piece up to this long is kept in memory between measuring and writing (at most 115 MB). A longer one waits in a
 * scratch file where there is one, else it is mixed twice: the same bit for bit.
 */
const KEPT_SECONDS = 300;

/** Somewhere outside of memory where a long piece waits between measuring and writing. */
export interface ScratchFile {
  /** Takes the next samples; the array is used again afterwards. @returns whether there was room for them */
  write(samples: Float32Array): boolean;
  /** Gives back as many samples as the array holds, in the order in which they were taken. */
  read(into: Float32Array): void;
}

/** Where sound waits between measuring and writing. */
export interface Keeping {
  readonly scratch?: ScratchFile | undefined;
  /** How long a piece is kept in memory at most; 300 s by default. */
  readonly inMemorySeconds?: number;
  /** Takes the file's bytes as they are made, all but its beginning and its end: `parts` has those two then. */
  readonly onPart?: (part: Uint8Array) => void;
}

/** How loud a file is, where it is not as every other. */
export interface Levels {
  readonly lufs?: number;
  /** No sample gets louder, in dB below full scale. */
  readonly ceilingDb?: number;
  /** Whether what limiting takes of the loudness is given back. */
  readonly givesBack?: boolean;
  /** What is laid under the music before it is measured; asked for a sink of its own for each time that the music is mixed. */
  readonly under?: { readonly pass: () => SoundSink };
}

/** What was measured, waiting to be written. */
interface Waiting {
  readonly put: SoundSink;
  /** Gives the sound on as rendering would; undefined where it could not be kept. */
  readonly replay: ((sink: SoundSink) => Generator<RenderStep, number, undefined>) | undefined;
}

function waitingInMemory(): Waiting {
  const kept: { readonly left: Float32Array; readonly right: Float32Array }[] = [];
  return {
    put: (left, right, count) => void kept.push({ left: left.slice(0, count), right: right.slice(0, count) }),
    replay: function* (sink) {
      const total = kept.reduce((sum, { left }) => sum + left.length, 0);
      let done = 0;
      for (const { left, right } of kept) {
        sink(left, right, left.length);
        done += left.length;
        yield { done, total };
      }
      return total;
    },
  };
}

function waitingIn(file: ScratchFile): Waiting {
  const counts: number[] = [];
  let hasRoom = true;
  return {
    put: (left, right, count) => {
      hasRoom &&= file.write(left.subarray(0, count)) && file.write(right.subarray(0, count));
      counts.push(count);
    },
    get replay() {
      if (!hasRoom) return undefined;
      return function* (sink: SoundSink) {
        const total = counts.reduce((sum, count) => sum + count, 0);
        const most = Math.max(0, ...new Set(counts));
        const [left, right] = [new Float32Array(most), new Float32Array(most)];
        let done = 0;
        for (const count of counts) {
          file.read(left.subarray(0, count));
          file.read(right.subarray(0, count));
          sink(left, right, count);
          done += count;
          yield { done, total };
        }
        return total;
      };
    },
  };
}

const MIXED_TWICE: Waiting = { put: () => undefined, replay: undefined };

/** So much of a piece shows what limiting takes of its loudness, at most this much of which is given back. */
const TRIAL_SECONDS = 30;
const MOST_GIVEN_BACK = 10 ** (3 / 20);

/** The beginning of a piece, to try the limiter on. */
class Trial {
  readonly #sampleRate: number;
  readonly #parts: { readonly left: Float32Array; readonly right: Float32Array }[] = [];
  #frames = 0;

  constructor(sampleRate: number) {
    this.#sampleRate = sampleRate;
  }

  put(left: Float32Array, right: Float32Array, count: number): void {
    if (this.#frames >= TRIAL_SECONDS * this.#sampleRate) return;
    this.#parts.push({ left: left.slice(0, count), right: right.slice(0, count) });
    this.#frames += count;
  }

  /** What limiting at a gain takes of the loudness, as a gain of 1 or more that gives it back. */
  lossAt(gain: number, ceiling: number): number {
    const [before, after] = [new LoudnessMeter(this.#sampleRate), new LoudnessMeter(this.#sampleRate)];
    const limiter = new Limiter(this.#sampleRate, ceiling);
    for (const part of this.#parts) {
      const [left, right] = [part.left.map((each) => each * gain), part.right.map((each) => each * gain)];
      before.add(left, right, left.length);
      limiter.process(left, right, left.length);
      after.add(left, right, left.length);
    }
    if (before.integratedLufs === undefined || after.integratedLufs === undefined) return 1;
    return Math.max(1, Math.min(MOST_GIVEN_BACK, 10 ** ((before.integratedLufs - after.integratedLufs) / 20)));
  }
}

/** A finished sound file. */
export interface SoundFile {
  /** The file's bytes, in pieces, to be written one after the other; without those that `onPart` took. */
  readonly parts: readonly Uint8Array[];
  readonly seconds: number;
  /** Loudness before it was evened, LUFS; undefined where there was only silence. */
  readonly playedLufs: number | undefined;
  /** What everything was multiplied by. */
  readonly gain: number;
  /** The most the limiter turned down, as a gain; 1 where it had nothing to do. */
  readonly limiterGain: number;
}

async function encoderOf(format: SoundFormat, sampleRate: number, tags: SoundTags): Promise<SoundEncoder> {
  switch (format.kind) {
    case 'wav':
      return wavEncoder(sampleRate, format.bits, tags);
    case 'flac':
      return await flacEncoder(sampleRate, format.bits, tags);
    case 'mp3':
      return await mp3Encoder(sampleRate, format.bitrate, tags, format.program);
    case 'samples':
      return samplesEncoder();
  }
}

/**
 * Renders a schedule into a sound file, step by step: measured first, then written at TARGET_LUFS,
 * limited so that nothing clips. A loop's file has exactly the loop's frames and goes round without a click (not as MP3, whose
 * frames do not allow it); it is softer than the target where its peaks would clip.
 * @returns once the encoder is loaded, the steps: each tells frames of both passes and lets other work in; the last gives the file
 */
export async function soundFileSteps(
  store: NoteStore,
  schedule: Schedule,
  format: SoundFormat,
  tags: SoundTags,
  options: RenderOptions = {},
  { scratch, inMemorySeconds = KEPT_SECONDS, onPart }: Keeping = {},
  levels: Levels = {},
): Promise<Generator<RenderStep, SoundFile, undefined>> {
  const waiting =
    schedule.endSeconds <= inMemorySeconds
      ? waitingInMemory()
      : scratch === undefined
        ? MIXED_TWICE
        : waitingIn(scratch);
  return stepsWith(await encoderOf(format, store.sampleRate, tags), store, schedule, options, waiting, onPart, levels);
}

function* stepsWith(
  encoder: SoundEncoder,
  store: NoteStore,
  schedule: Schedule,
  options: RenderOptions,
  waiting: Waiting,
  onPart: Keeping['onPart'],
  { lufs = TARGET_LUFS, ceilingDb, givesBack = false, under }: Levels,
): Generator<RenderStep, SoundFile, undefined> {
  const { sampleRate } = store;
  const ceiling = ceilingDb === undefined ? CEILING : 10 ** (ceilingDb / 20);
  const meter = new LoudnessMeter(sampleRate);
  const trial = givesBack ? new Trial(sampleRate) : undefined;
  const laid = under?.pass();
  const measure: SoundSink = (left, right, count) => {
    laid?.(left, right, count);
    meter.add(left, right, count);
    trial?.put(left, right, count);
    waiting.put(left, right, count);
  };
  const frames = yield* pass(0, renderSteps(store, schedule, measure, options));
  const playedLufs = meter.integratedLufs;
  const wanted = playedLufs === undefined ? 1 : 10 ** ((lufs - playedLufs) / 20);
  // A limiter would act differently before and after a loop's seam: a loop is turned down as a whole instead.
  const most = options.isLoop === true && meter.peak > 0 ? ceiling / meter.peak : HIGHEST_GAIN;
  const plain = Math.min(most, Math.max(LOWEST_GAIN, Math.min(HIGHEST_GAIN, wanted)));
  const gain = plain * (trial?.lossAt(plain, ceiling) ?? 1);

  const limiter = new Limiter(sampleRate, ceiling);
  const parts: Uint8Array[] = [];
  let skip = limiter.delayFrames;
  const add = (left: Float32Array, right: Float32Array, count: number): void => {
    limiter.process(left, right, count);
    const from = Math.min(skip, count);
    skip -= from;
    if (count <= from) return;
    const part = encoder.add(left.subarray(from, count), right.subarray(from, count), count - from);
    if (part.length > 0) (onPart ?? ((each) => void parts.push(each)))(part);
  };
  const louder = (left: Float32Array, right: Float32Array, count: number): void => {
    for (let index = 0; index < count; index++) {
      left[index] = (left[index] as number) * gain;
      right[index] = (right[index] as number) * gain;
    }
    add(left, right, count);
  };
  // what waited has its voices already
  const again = under?.pass();
  const mixed: SoundSink = (left, right, count) => {
    again?.(left, right, count);
    louder(left, right, count);
  };
  yield* pass(1, waiting.replay?.(louder) ?? renderSteps(store, schedule, mixed, options));
  add(new Float32Array(limiter.delayFrames), new Float32Array(limiter.delayFrames), limiter.delayFrames);
  const { head, tail } = encoder.finish();
  return {
    parts: [head, ...parts, tail],
    seconds: frames / sampleRate,
    playedLufs,
    gain,
    limiterGain: limiter.lowestGain,
  };
}

/** The steps of the first or second of two passes, counted over both. */
function* pass<Value>(
  which: 0 | 1,
  steps: Generator<RenderStep, Value, undefined>,
): Generator<RenderStep, Value, undefined> {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    const { done, total } = step.value;
    yield { done: which * total + done, total: 2 * total };
  }
}

/**
 * Renders a schedule into a sound file at one go (see soundFileSteps).
 * @param progress steps are frames of both passes
 * @param keeping where a piece waits between measuring and writing; a long one without a scratch file is mixed twice
 * @returns undefined when cancelled
 */
export async function soundFile(
  store: NoteStore,
  schedule: Schedule,
  format: SoundFormat,
  tags: SoundTags,
  options: RenderOptions = {},
  progress: Progress = UNWATCHED,
  keeping: Keeping = {},
): Promise<SoundFile | undefined> {
  const steps = await soundFileSteps(store, schedule, format, tags, options, keeping);
  for (;;) {
    if (progress.cancelled()) return undefined;
    const step = steps.next();
    if (step.done === true) return step.value;
    progress.report(step.value.done, step.value.total);
  }
}
