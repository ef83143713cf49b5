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
    };

/** How loud every file is. From memory: what streaming services bring music to lies between −14 and −16 LUFS. */
export const TARGET_LUFS = -16;

/** No sample gets louder than this: 1.5 dB below full scale leaves room for what decoders and converters add between samples. */
const CEILING = 10 ** (-1.5 / 20);

/** Quietest and loudest correction, so that a nearly silent piece is not blown up into noise. */
const LOWEST_GAIN = 0.05;
const HIGHEST_GAIN = 20;

/** A piece up to this long is kept between measuring and writing (at most 115 MB); a longer one is mixed twice, the same bit for bit. */
const KEPT_SECONDS = 300;

interface Kept {
  readonly left: Float32Array;
  readonly right: Float32Array;
}

/** Gives kept sound on as rendering would, and what it has given on in frames. */
function* replay(kept: readonly Kept[], frames: number, sink: SoundSink): Generator<RenderStep, number, undefined> {
  let done = 0;
  for (const { left, right } of kept) {
    sink(left, right, left.length);
    done += left.length;
    yield { done, total: frames };
  }
  return frames;
}

/** A finished sound file. */
export interface SoundFile {
  /** The file's bytes, in pieces, to be written one after the other. */
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
): Promise<Generator<RenderStep, SoundFile, undefined>> {
  return stepsWith(await encoderOf(format, store.sampleRate, tags), store, schedule, options);
}

function* stepsWith(
  encoder: SoundEncoder,
  store: NoteStore,
  schedule: Schedule,
  options: RenderOptions,
): Generator<RenderStep, SoundFile, undefined> {
  const { sampleRate } = store;
  const meter = new LoudnessMeter(sampleRate);
  const kept: Kept[] | undefined = schedule.endSeconds <= KEPT_SECONDS ? [] : undefined;
  const measure: SoundSink = (left, right, count) => {
    meter.add(left, right, count);
    kept?.push({ left: left.slice(0, count), right: right.slice(0, count) });
  };
  const frames = yield* pass(0, renderSteps(store, schedule, measure, options));
  const playedLufs = meter.integratedLufs;
  const wanted = playedLufs === undefined ? 1 : 10 ** ((TARGET_LUFS - playedLufs) / 20);
  // A limiter would act differently before and after a loop's seam: a loop is turned down as a whole instead.
  const most = options.isLoop === true && meter.peak > 0 ? CEILING / meter.peak : HIGHEST_GAIN;
  const gain = Math.min(most, Math.max(LOWEST_GAIN, Math.min(HIGHEST_GAIN, wanted)));

  const limiter = new Limiter(sampleRate, CEILING);
  const parts: Uint8Array[] = [];
  let skip = limiter.delayFrames;
  const add = (left: Float32Array, right: Float32Array, count: number): void => {
    limiter.process(left, right, count);
    const from = Math.min(skip, count);
    skip -= from;
    if (count > from) parts.push(encoder.add(left.subarray(from, count), right.subarray(from, count), count - from));
  };
  const louder = (left: Float32Array, right: Float32Array, count: number): void => {
    for (let index = 0; index < count; index++) {
      left[index] = (left[index] as number) * gain;
      right[index] = (right[index] as number) * gain;
    }
    add(left, right, count);
  };
  yield* pass(1, kept === undefined ? renderSteps(store, schedule, louder, options) : replay(kept, frames, louder));
  add(new Float32Array(limiter.delayFrames), new Float32Array(limiter.delayFrames), limiter.delayFrames);
  const { head, tail } = encoder.finish();
  return {
    parts: [head, ...parts.filter((part) => part.length > 0), tail],
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
 * @returns undefined when cancelled
 */
export async function soundFile(
  store: NoteStore,
  schedule: Schedule,
  format: SoundFormat,
  tags: SoundTags,
  options: RenderOptions = {},
  progress: Progress = UNWATCHED,
): Promise<SoundFile | undefined> {
  const steps = await soundFileSteps(store, schedule, format, tags, options);
  for (;;) {
    if (progress.cancelled()) return undefined;
    const step = steps.next();
    if (step.done === true) return step.value;
    progress.report(step.value.done, step.value.total);
  }
}
