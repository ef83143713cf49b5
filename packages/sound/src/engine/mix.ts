import { RUN_BITS, RUN_MASK, type Release } from './release.ts';

/*
 * The inner loops. Each adds `frames` samples of a rendered note, from `at` on, to `out` from `offset` on. Kept apart and plain
 * so that the just-in-time compiler makes tight loops of them; nothing here allocates. Sums are kept in double precision: adding
 * four notes in one loop then gives bit for bit what four loops give. Gains come in arrays: a fraction handed over by itself is
 * put on the heap.
 */

/** Places in the gains that the loops take. */
export const GAIN = 0;
export const STEP = 1;
export const GAIN_RIGHT = 2;

/** At one gain. */
export function addSteady(
  out: Float64Array,
  offset: number,
  source: Float32Array,
  at: number,
  frames: number,
  gains: Float64Array,
): void {
  const gain = gains[GAIN] as number;
  for (let index = 0; index < frames; index++) {
    out[offset + index] = (out[offset + index] as number) + (source[at + index] as number) * gain;
  }
}

/** Two notes in one loop, each at its gain. `at` and `gain` have two entries or more. */
export function addTwo(
  out: Float64Array,
  sources: readonly Float32Array[],
  at: Int32Array,
  gain: Float64Array,
  frames: number,
): void {
  const source0 = sources[0] as Float32Array;
  const source1 = sources[1] as Float32Array;
  const at0 = at[0] as number;
  const at1 = at[1] as number;
  const gain0 = gain[0] as number;
  const gain1 = gain[1] as number;
  for (let index = 0; index < frames; index++) {
    out[index] =
      (out[index] as number) + (source0[at0 + index] as number) * gain0 + (source1[at1 + index] as number) * gain1;
  }
}

/** Four notes in one loop, each at its gain: a third cheaper than one by one. `at` and `gain` have four entries. */
export function addFour(
  out: Float64Array,
  sources: readonly Float32Array[],
  at: Int32Array,
  gain: Float64Array,
  frames: number,
): void {
  const source0 = sources[0] as Float32Array;
  const source1 = sources[1] as Float32Array;
  const source2 = sources[2] as Float32Array;
  const source3 = sources[3] as Float32Array;
  const at0 = at[0] as number;
  const at1 = at[1] as number;
  const at2 = at[2] as number;
  const at3 = at[3] as number;
  const gain0 = gain[0] as number;
  const gain1 = gain[1] as number;
  const gain2 = gain[2] as number;
  const gain3 = gain[3] as number;
  for (let index = 0; index < frames; index++) {
    out[index] =
      (out[index] as number) +
      (source0[at0 + index] as number) * gain0 +
      (source1[at1 + index] as number) * gain1 +
      (source2[at2 + index] as number) * gain2 +
      (source3[at3 + index] as number) * gain3;
  }
}

/** Both sides of a note at one gain each. */
export function addSteadyPair(
  left: Float64Array,
  right: Float64Array,
  source: { readonly left: Float32Array; readonly right: Float32Array },
  at: number,
  frames: number,
  gains: Float64Array,
): void {
  const gainLeft = gains[GAIN] as number;
  const gainRight = gains[GAIN_RIGHT] as number;
  const sourceLeft = source.left;
  const sourceRight = source.right;
  for (let index = 0; index < frames; index++) {
    left[index] = (left[index] as number) + (sourceLeft[at + index] as number) * gainLeft;
    right[index] = (right[index] as number) + (sourceRight[at + index] as number) * gainRight;
  }
}

/** At a gain that moves by `step` each frame. */
export function addMoving(
  out: Float64Array,
  offset: number,
  source: Float32Array,
  at: number,
  frames: number,
  gains: Float64Array,
): void {
  const gain = gains[GAIN] as number;
  const step = gains[STEP] as number;
  for (let index = 0; index < frames; index++) {
    out[offset + index] = (out[offset + index] as number) + (source[at + index] as number) * (gain + index * step);
  }
}

/** In release, from `released` frames after the note was left, times a gain that may move. */
export function addReleased(
  out: Float64Array,
  offset: number,
  source: Float32Array,
  at: number,
  frames: number,
  gains: Float64Array,
  release: Release,
  released: number,
): void {
  const { coarse, fine } = release;
  const gain = gains[GAIN] as number;
  const step = gains[STEP] as number;
  let done = 0;
  while (done < frames) {
    const place = (released + done) & RUN_MASK;
    const run = Math.min(frames - done, RUN_MASK + 1 - place);
    const fallen = coarse[(released + done) >> RUN_BITS] as number;
    const to = offset + done;
    const from = at + done;
    if (step === 0) {
      const steady = fallen * gain;
      for (let index = 0; index < run; index++) {
        out[to + index] =
          (out[to + index] as number) + (source[from + index] as number) * (steady * (fine[place + index] as number));
      }
    } else {
      for (let index = 0; index < run; index++) {
        const moved = (gain + (done + index) * step) * fallen * (fine[place + index] as number);
        out[to + index] = (out[to + index] as number) + (source[from + index] as number) * moved;
      }
    }
    done += run;
  }
}

/** Both sides of a note in release at once: the fall is computed once for two samples. Bit for bit two `addReleased`. */
export function addReleasedPair(
  left: Float64Array,
  right: Float64Array,
  offset: number,
  source: { readonly left: Float32Array; readonly right: Float32Array },
  at: number,
  frames: number,
  gains: Float64Array,
  release: Release,
  released: number,
): void {
  const { coarse, fine } = release;
  const gainLeft = gains[GAIN] as number;
  const gainRight = gains[GAIN_RIGHT] as number;
  const sourceLeft = source.left;
  const sourceRight = source.right;
  let done = 0;
  while (done < frames) {
    const place = (released + done) & RUN_MASK;
    const run = Math.min(frames - done, RUN_MASK + 1 - place);
    const fallen = coarse[(released + done) >> RUN_BITS] as number;
    const nowLeft = fallen * gainLeft;
    const nowRight = fallen * gainRight;
    for (let index = 0; index < run; index++) {
      const shape = fine[place + index] as number;
      const from = at + done + index;
      const to = offset + done + index;
      left[to] = (left[to] as number) + (sourceLeft[from] as number) * (nowLeft * shape);
      right[to] = (right[to] as number) + (sourceRight[from] as number) * (nowRight * shape);
    }
    done += run;
  }
}
