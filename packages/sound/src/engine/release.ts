/** Depth of a release in decibels: what SoundFont 2.04 (section 8.1.3, releaseVolEnv) defines its time by, as the synthesizer reads it. */
const DEPTH_DB = 96;
const RUN = 64;

/**
 * How a note's loudness falls after the key is left: straight in decibels, 96 dB in `frames`. Kept as two short tables whose
 * product is the gain at any frame, so that the gain depends on that frame alone, not on how the rendering was cut into blocks.
 */
export interface Release {
  /** Frames until 96 dB below. */
  readonly frames: number;
  /** Gain at every RUN-th frame. */
  readonly coarse: Float32Array;
  /** Gain from there to the next. */
  readonly fine: Float32Array;
}

/** Frames in one run of the fine table, as a power of two: coarse[n >> RUN_BITS] · fine[n & RUN_MASK]. */
export const RUN_BITS = 6;
export const RUN_MASK = RUN - 1;

/**
 * A release that falls 96 dB in `frames`.
 * @example releaseGain(makeRelease(44_100), 44_100) // → about 1.6e-5
 */
export function makeRelease(frames: number): Release {
  if (!Number.isInteger(frames) || frames < 1) throw new RangeError(`frames must be a positive integer, not ${frames}`);
  const gain = (frame: number): number => 10 ** ((-DEPTH_DB / 20) * (frame / frames));
  const coarse = new Float32Array((frames >> RUN_BITS) + 1);
  for (let index = 0; index < coarse.length; index++) coarse[index] = gain(index * RUN);
  const fine = new Float32Array(RUN);
  for (let index = 0; index < RUN; index++) fine[index] = gain(index);
  return { frames, coarse, fine };
}

/** The gain `frame` frames after the key was left, 0 … frames. */
export function releaseGain({ coarse, fine }: Release, frame: number): number {
  return (coarse[frame >> RUN_BITS] ?? 0) * (fine[frame & RUN_MASK] ?? 0);
}

/** Frames until a sound of this peak has fallen below the floor, never more than the release has. */
export function audibleFrames({ frames }: Release, peak: number, floor: number): number {
  if (peak <= floor) return 0;
  return Math.min(frames, Math.ceil((frames * 20 * Math.log10(peak / floor)) / DEPTH_DB));
}

/**
 * The frame of a note, from its start, after which nothing of it is heard when it is left at frame `left`: it dies away by itself
 * too, so that each later step has less to fall.
 * @param peaksAhead the loudest sample from every `stepFrames`-th frame on
 * @param gain what the note is mixed with
 */
export function silentFrom(
  release: Release,
  peaksAhead: Float32Array,
  stepFrames: number,
  gain: number,
  floor: number,
  left: number,
): number {
  let step = Math.floor(left / stepFrames);
  let silent = left + audibleFrames(release, (peaksAhead[step] ?? 0) * gain, floor);
  // from the step's start on no sample is above its peak
  while (++step * stepFrames < silent) {
    const heard = left + audibleFrames(release, (peaksAhead[step] ?? 0) * gain, floor);
    silent = Math.min(silent, Math.max(heard, step * stepFrames));
  }
  return silent;
}
