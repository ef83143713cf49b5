import { BLOCK_FRAMES } from './block-frames.ts';
import { releaseGain, type Release } from './release.ts';

/** What is softer than this is silence: half the last bit of a 16-bit file, 96 dB below full scale. */
export const SILENCE = 2 ** -16;

/** Frames for which one figure says how loud a note still gets. Whole blocks. */
export const PEAK_STEP_FRAMES = 8 * BLOCK_FRAMES;

/** A note rendered without end, as long as was needed. */
export interface RenderedNote {
  /** May be the beginning of a longer array that a store keeps: copy it before its buffer is given away. */
  readonly left: Float32Array;
  /** The same array as `left` when both sides are equal. */
  readonly right: Float32Array;
  /** It goes on, but nobody needed more. */
  readonly isCut: boolean;
  /** The loudest sample from every PEAK_STEP_FRAMES-th frame on to the end. */
  readonly peaksAhead: Float32Array;
  readonly release: Release;
  readonly exclusiveClass: number;
}

/** One way in which a rendered note will be used: held so long, mixed so loud. */
export interface NoteUse {
  /** Frames from its start until it is left; Infinity where nobody leaves it. */
  readonly heldFrames: number;
  /** The louder side's gain. */
  readonly gain: number;
}

/** A note as far as it has been rendered, whoever needed so much: what a store keeps. */
export interface Recording {
  readonly left: Float32Array;
  readonly right: Float32Array;
  /** Nothing more would come. */
  readonly isWhole: boolean;
  /** The loudest sample of each step. */
  readonly peaks: readonly number[];
  readonly release: Release;
  readonly exclusiveClass: number;
}

/** How many frames a note must have at least; or all the ways in which it will be used: it is then as long as it is heard. */
export type NoteNeed = number | readonly NoteUse[];

const wholeSteps = (frames: number): number => Math.ceil(frames / PEAK_STEP_FRAMES) * PEAK_STEP_FRAMES;

/** The frames that are needed however soft a note is: while it is held, and room for the engine's quickest fade. Whole steps. */
export function leastFrames(need: NoteNeed, fadeFrames: number): number {
  if (typeof need === 'number') return wholeSteps(need);
  return wholeSteps(need.reduce((most, { heldFrames }) => Math.max(most, heldFrames), 0) + fadeFrames);
}

/**
 * Whether anything is heard of a note after a number of frames, by the loudness of the step before: a note left dies away.
 * @param frames whole steps, at least `leastFrames`
 */
export function isHeardAfter(
  frames: number,
  need: NoteNeed,
  { peaks, release }: Pick<Recording, 'peaks' | 'release'>,
): boolean {
  if (typeof need === 'number') return false;
  const peak = peaks[frames / PEAK_STEP_FRAMES - 1] ?? 0;
  // three frames for what rounding makes of them on the way to the engine
  return need.some(
    ({ heldFrames, gain }) => peak * gain * releaseGain(release, frames - Math.ceil(heldFrames) - 3) > SILENCE,
  );
}

/**
 * The note that is needed, out of a longer recording. What comes out depends on the need alone, not on how much more was
 * kept for others.
 * @returns undefined where the recording is too short
 */
export function noteFor(recording: Recording, need: NoteNeed, fadeFrames: number): RenderedNote | undefined {
  const { left, isWhole } = recording;
  const kept = recording.peaks.length * PEAK_STEP_FRAMES;
  let frames = leastFrames(need, fadeFrames);
  while (frames <= kept && isHeardAfter(frames, need, recording)) frames += PEAK_STEP_FRAMES;
  if (frames > kept && !isWhole) return undefined;
  return cutTo(recording, typeof need === 'number' ? left.length : frames);
}

/** The first frames of a recording, without the silence at their end. */
export function cutTo(
  { left, right, isWhole, peaks, release, exclusiveClass }: Recording,
  frames: number,
): RenderedNote {
  const most = Math.min(frames, left.length);
  let length = most;
  const isSilent = (samples: Float32Array): boolean => Math.abs(samples[length - 1] as number) < SILENCE;
  while (length > 0 && isSilent(left) && isSilent(right)) length--;
  const first = (samples: Float32Array): Float32Array =>
    length === samples.length ? samples : samples.subarray(0, length);
  const shorter = first(left);
  return {
    left: shorter,
    right: left === right ? shorter : first(right),
    isCut: length === most && !(isWhole && most === left.length),
    peaksAhead: peaksFrom(peaks, Math.ceil(length / PEAK_STEP_FRAMES)),
    release,
    exclusiveClass,
  };
}

/** From each step's own peak to the highest from there on, for so many steps. */
function peaksFrom(peaks: readonly number[], steps: number): Float32Array {
  const ahead = new Float32Array(steps);
  let highest = 0;
  for (let step = steps - 1; step >= 0; step--) ahead[step] = highest = Math.max(highest, peaks[step] ?? 0);
  return ahead;
}
