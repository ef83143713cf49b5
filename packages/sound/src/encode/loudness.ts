/**
 * Integrated loudness of stereo sound: ITU-R BS.1770-4, annex 1 (K weighting, 400 ms blocks overlapping by three quarters, gates at
 * −70 LUFS and 10 LU below the rest). Formulas from memory; `checks/sound/loudness.test.ts` holds them against the standard's
 * coefficients at 48 kHz and its calibration tone.
 */

const BLOCK_SECONDS = 0.4;
const STEPS_A_BLOCK = 4;
const ABSOLUTE_GATE_LUFS = -70;
const RELATIVE_GATE_LU = -10;
const OFFSET_LUFS = -0.691;

/** A filter of second order: out = b0 x + b1 x₁ + b2 x₂ − a1 y₁ − a2 y₂. */
export interface Biquad {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}

/** The two filters of K weighting at a sample rate, from the analogue prototypes by bilinear transform. */
export function kWeighting(sampleRate: number): { readonly shelf: Biquad; readonly highPass: Biquad } {
  const shelfK = Math.tan((Math.PI * 1681.974450955533) / sampleRate);
  const shelfQ = 0.7071752369554196;
  const high = 10 ** (3.999843853973347 / 20);
  const band = high ** 0.4996667741545416;
  const shelfA0 = 1 + shelfK / shelfQ + shelfK * shelfK;
  const passK = Math.tan((Math.PI * 38.13547087602444) / sampleRate);
  const passQ = 0.5003270373238773;
  const passA0 = 1 + passK / passQ + passK * passK;
  return {
    shelf: {
      b0: (high + (band * shelfK) / shelfQ + shelfK * shelfK) / shelfA0,
      b1: (2 * (shelfK * shelfK - high)) / shelfA0,
      b2: (high - (band * shelfK) / shelfQ + shelfK * shelfK) / shelfA0,
      a1: (2 * (shelfK * shelfK - 1)) / shelfA0,
      a2: (1 - shelfK / shelfQ + shelfK * shelfK) / shelfA0,
    },
    highPass: {
      b0: 1,
      b1: -2,
      b2: 1,
      a1: (2 * (passK * passK - 1)) / passA0,
      a2: (1 - passK / passQ + passK * passK) / passA0,
    },
  };
}

/** One channel's weighting, sample by sample. */
class Weighting {
  readonly #filters: readonly Biquad[];
  readonly #past: Float64Array;

  constructor(filters: readonly Biquad[]) {
    this.#filters = filters;
    this.#past = new Float64Array(filters.length * 4);
  }

  /** Sum of the squares of the weighted samples `from` … `to`. */
  energy(samples: Float32Array, from: number, to: number): number {
    let sum = 0;
    const past = this.#past;
    for (let index = from; index < to; index++) {
      let value = samples[index] as number;
      for (let each = 0; each < this.#filters.length; each++) {
        const { b0, b1, b2, a1, a2 } = this.#filters[each] as Biquad;
        const at = each * 4;
        const out =
          b0 * value +
          b1 * (past[at] as number) +
          b2 * (past[at + 1] as number) -
          a1 * (past[at + 2] as number) -
          a2 * (past[at + 3] as number);
        past[at + 1] = past[at] as number;
        past[at] = value;
        past[at + 3] = past[at + 2] as number;
        past[at + 2] = out;
        value = out;
      }
      sum += value * value;
    }
    // In silence the filters' memory sinks to numbers that processors compute with many times slower: let it go.
    for (let index = 0; index < past.length; index++) if (Math.abs(past[index] as number) < 1e-20) past[index] = 0;
    return sum;
  }
}

/** Measures sound as it comes. */
export class LoudnessMeter {
  readonly #left: Weighting;
  readonly #right: Weighting;
  readonly #stepFrames: number;
  /** Energy of every finished quarter block. */
  readonly #steps: number[] = [];
  #energy = 0;
  #filled = 0;
  #peak = 0;

  constructor(sampleRate: number) {
    const { shelf, highPass } = kWeighting(sampleRate);
    this.#left = new Weighting([shelf, highPass]);
    this.#right = new Weighting([shelf, highPass]);
    this.#stepFrames = Math.round((BLOCK_SECONDS * sampleRate) / STEPS_A_BLOCK);
  }

  add(left: Float32Array, right: Float32Array, frames: number): void {
    for (let at = 0; at < frames;) {
      const run = Math.min(frames - at, this.#stepFrames - this.#filled);
      this.#energy += this.#left.energy(left, at, at + run) + this.#right.energy(right, at, at + run);
      this.#filled += run;
      at += run;
      if (this.#filled === this.#stepFrames) {
        this.#steps.push(this.#energy);
        this.#energy = 0;
        this.#filled = 0;
      }
    }
    for (let index = 0; index < frames; index++) {
      const here = Math.max(Math.abs(left[index] as number), Math.abs(right[index] as number));
      if (here > this.#peak) this.#peak = here;
    }
  }

  /** The largest sample so far. */
  get peak(): number {
    return this.#peak;
  }

  /** Loudness so far in LUFS; undefined for silence or less than 400 ms. */
  get integratedLufs(): number | undefined {
    const powers: number[] = [];
    for (let end = STEPS_A_BLOCK; end <= this.#steps.length; end++) {
      let energy = 0;
      for (let step = end - STEPS_A_BLOCK; step < end; step++) energy += this.#steps[step] as number;
      powers.push(energy / (this.#stepFrames * STEPS_A_BLOCK));
    }
    const loud = powers.filter((power) => lufs(power) > ABSOLUTE_GATE_LUFS);
    if (loud.length === 0) return undefined;
    const gate = lufs(mean(loud)) + RELATIVE_GATE_LU;
    return lufs(mean(loud.filter((power) => lufs(power) > gate)));
  }
}

const lufs = (power: number): number => OFFSET_LUFS + 10 * Math.log10(power);

const mean = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0) / values.length;
