import { UNWATCHED, type Progress } from '@fivespan/core';
import type { NoteStore } from './note-store.ts';
import { planOf, prepare, type Plan, type Prepared } from './prepared.ts';
import type { Schedule } from './schedule.ts';
import { SoundEngine } from './sound-engine.ts';
import { BLOCK_FRAMES } from './synthesizer.ts';

/** Sound as two channels of the same length, −1 … 1 where nothing is clipped. */
export interface StereoSound {
  readonly sampleRate: number;
  readonly left: Float32Array;
  readonly right: Float32Array;
}

/** How a schedule is rendered to the end. */
export interface RenderOptions {
  /** What follows the end of the piece at most, in seconds, until the last notes have died away; faded over its second half. */
  readonly tailSeconds?: number;
  /** Players not heard: indices. */
  readonly muted?: readonly number[];
  /** The end leads into the beginning: no tail, the first notes sound over the last ones' ringing. */
  readonly isLoop?: boolean;
}

/** The longest ringing after the end by default. */
const TAIL_SECONDS = 4;

/** Notes are rendered and laid out for this much music at a time: bounds memory in long pieces, answers to cancel. */
const WINDOW_SECONDS = 10;

/** Frames given on at a time. */
const CHUNK_FRAMES = BLOCK_FRAMES * 64;

/** Takes the next frames; the arrays are used again after it returns. */
export type SoundSink = (left: Float32Array, right: Float32Array, frames: number) => void;

/** How far a rendering is. */
export interface RenderStep {
  readonly done: number;
  readonly total: number;
}

/** Events whose notes are rendered in one step. */
const EVENTS_A_STEP = 12;

/**
 * Renders a schedule from start to end, giving on piece by piece: however long it is, little is held. Between two steps, a few
 * thousandths of a second each where the notes are known and some hundredths where they are new, other work may be done.
 * @returns when it is at its end, frames given on
 * @example for (const { done, total } of renderSteps(store, schedule, sink)) tell(done / total);
 */
export function* renderSteps(
  store: NoteStore,
  schedule: Schedule,
  sink: SoundSink,
  options: RenderOptions = {},
): Generator<RenderStep, number, undefined> {
  const { tailSeconds = TAIL_SECONDS, muted = [], isLoop = false } = options;
  if (!(tailSeconds >= 0 && tailSeconds <= 60)) throw new RangeError(`tailSeconds must be 0 to 60, not ${tailSeconds}`);
  const plan = planOf(store, isLoop ? twice(schedule) : schedule);
  const engine = new SoundEngine(store.sampleRate);
  for (const player of muted) engine.setMuted(player, true);
  const pieceFrames = Math.round(schedule.endSeconds * store.sampleRate);
  const from = isLoop ? pieceFrames : 0;
  const end = from + pieceFrames;
  const last = isLoop ? end : end + Math.round(tailSeconds * store.sampleRate);
  const left = new Float32Array(CHUNK_FRAMES);
  const right = new Float32Array(CHUNK_FRAMES);
  const step = (): RenderStep => ({ done: Math.min(engine.audioFrame, end), total: end });
  let loaded = 0;
  while (engine.audioFrame < last) {
    const window = windowAt(plan, loaded);
    if (window !== undefined) {
      // the notes first, a few at a time: the store has them when the window is laid out
      for (let at = window.from; at < window.to; at += EVENTS_A_STEP) {
        prepare(store, plan, UNWATCHED, at, Math.min(at + EVENTS_A_STEP, window.to));
        yield step();
      }
      engine.load(prepare(store, plan, UNWATCHED, window.from, window.to) as Prepared);
      if (!engine.playing) engine.play();
      loaded = window.to;
    }
    const next = plan.events[loaded];
    const stop = next === undefined ? last : Math.min(last, Math.round(next.startSeconds * store.sampleRate));
    while (engine.audioFrame < stop) {
      const at = engine.audioFrame;
      const border = at < from ? from : at < end ? end : last;
      const frames = Math.min(CHUNK_FRAMES, stop - at, border - at);
      engine.process(left, right, frames);
      if (at >= end) {
        if (engine.soundingNotes === 0 && isSilent(left, right, frames)) return at - from;
        fadeTail(left, right, frames, at - end, last - end);
      }
      if (at >= from) sink(left, right, frames);
      yield step();
    }
  }
  return last - from;
}

/**
 * Renders a schedule from start to end at one go (see renderSteps).
 * @returns frames given on; undefined when cancelled
 */
export function renderTo(
  store: NoteStore,
  schedule: Schedule,
  sink: SoundSink,
  options: RenderOptions = {},
  progress: Progress = UNWATCHED,
): number | undefined {
  const steps = renderSteps(store, schedule, sink, options);
  for (;;) {
    if (progress.cancelled()) return undefined;
    const step = steps.next();
    if (step.done === true) return step.value;
    progress.report(step.value.done, step.value.total);
  }
}

/** The schedule and itself again: its second half is how a loop sounds once it goes round. */
function twice(schedule: Schedule): Schedule {
  const { endSeconds, events } = schedule;
  const within = events
    .filter((event) => event.startSeconds < endSeconds)
    .map((event) => ({ ...event, durationSeconds: Math.min(event.durationSeconds, endSeconds - event.startSeconds) }));
  return {
    ...schedule,
    endSeconds: endSeconds * 2,
    events: [...within, ...within.map((event) => ({ ...event, startSeconds: event.startSeconds + endSeconds }))],
  };
}

/** The events from `from` on that begin within the next window; undefined when none is left. */
function windowAt({ events }: Plan, from: number): { readonly from: number; readonly to: number } | undefined {
  const first = events[from];
  if (first === undefined) return undefined;
  let to = from + 1;
  while (to < events.length && (events[to]?.startSeconds ?? 0) < first.startSeconds + WINDOW_SECONDS) to++;
  return { from, to };
}

function isSilent(left: Float32Array, right: Float32Array, frames: number): boolean {
  for (let index = 0; index < frames; index++) if (left[index] !== 0 || right[index] !== 0) return false;
  return true;
}

/** Fades the second half of a tail, `at` frames into it, along a cosine: clean even where a cymbal rings longer. */
function fadeTail(left: Float32Array, right: Float32Array, frames: number, at: number, tail: number): void {
  const half = tail / 2;
  for (let index = 0; index < frames; index++) {
    const into = at + index - half;
    if (into <= 0) continue;
    const gain = 0.5 + 0.5 * Math.cos((Math.PI * into) / half);
    left[index] = (left[index] as number) * gain;
    right[index] = (right[index] as number) * gain;
  }
}

/**
 * Renders a schedule into memory: 8 bytes a frame, 21 MB a minute at 44.1 kHz.
 * @returns undefined when cancelled
 */
export function renderSchedule(
  store: NoteStore,
  schedule: Schedule,
  options: RenderOptions = {},
  progress: Progress = UNWATCHED,
): StereoSound | undefined {
  const { tailSeconds = TAIL_SECONDS, isLoop = false } = options;
  const most =
    Math.round(schedule.endSeconds * store.sampleRate) + (isLoop ? 0 : Math.round(tailSeconds * store.sampleRate));
  const left = new Float32Array(most);
  const right = new Float32Array(most);
  let at = 0;
  const frames = renderTo(
    store,
    schedule,
    (nextLeft, nextRight, count) => {
      left.set(nextLeft.subarray(0, count), at);
      right.set(nextRight.subarray(0, count), at);
      at += count;
    },
    options,
    progress,
  );
  if (frames === undefined) return undefined;
  return { sampleRate: store.sampleRate, left: left.subarray(0, frames), right: right.subarray(0, frames) };
}

/**
 * Renders frames `fromFrame` … `toFrame` of a schedule, bit for bit what `renderSchedule` has there: for workers side by side.
 * @returns undefined when cancelled
 */
export function renderPart(
  store: NoteStore,
  schedule: Schedule,
  fromFrame: number,
  toFrame: number,
  progress: Progress = UNWATCHED,
): StereoSound | undefined {
  if (!(Number.isInteger(fromFrame) && Number.isInteger(toFrame) && fromFrame >= 0 && toFrame >= fromFrame)) {
    throw new RangeError(`fromFrame and toFrame must be whole and in order, not ${fromFrame} and ${toFrame}`);
  }
  const plan = planOf(store, schedule);
  const { sampleRate } = store;
  const frameOf = (seconds: number): number => Math.round(seconds * sampleRate);
  let to = plan.events.length;
  while (to > 0 && frameOf(plan.events[to - 1]?.startSeconds ?? 0) >= toFrame) to--;
  // Nothing rings longer than the longest rendered note after it was begun.
  const longest = Math.max(0, ...plan.needed.values());
  let from = 0;
  while (from < to && frameOf(plan.events[from]?.startSeconds ?? 0) + longest < fromFrame) from++;
  const prepared: Prepared | undefined = prepare(store, plan, progress, from, to);
  if (prepared === undefined) return undefined;
  const engine = new SoundEngine(sampleRate);
  engine.load(prepared);
  engine.resumeAt(fromFrame);
  const left = new Float32Array(toFrame - fromFrame);
  const right = new Float32Array(toFrame - fromFrame);
  for (let at = 0; at < left.length; at += CHUNK_FRAMES) {
    if (progress.cancelled()) return undefined;
    const frames = Math.min(CHUNK_FRAMES, left.length - at);
    engine.process(left.subarray(at, at + frames), right.subarray(at, at + frames), frames);
  }
  return { sampleRate, left, right };
}
