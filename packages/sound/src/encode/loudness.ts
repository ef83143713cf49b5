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

/**
 * What the filters remember that is smaller than this is let go: in silence it sinks to numbers that processors compute
 * with many times slower.
 */
const LEAST_MEMORY = 1e-20;

const remembered = (value: number): number => (Math.abs(value) < LEAST_MEMORY ? 0 : value);

/**
 * Both channels' weighting, sample by sample. Everything in the loop is a local, and the channels go side by side: each
 * sample waits for the one before it, and while one channel's waits the other's is computed.
 */
class Weighting {
  readonly #shelf: Biquad;
  readonly #highPass: Biquad;
  /** Of each channel the last two samples before the shelf, between the filters, and after the high pass. */
  readonly #past = new Float64Array(12);

  constructor({ shelf, highPass }: { readonly shelf: Biquad; readonly highPass: Biquad }) {
    this.#shelf = shelf;
    this.#highPass = highPass;
  }

  /** Sum of the squares of the weighted samples `from` … `to` of both channels. */
  energy(left: Float32Array, right: Float32Array, from: number, to: number): number {
    const { b0, b1, b2, a1, a2 } = this.#shelf;
    const { b0: c0, b1: c1, b2: c2, a1: d1, a2: d2 } = this.#highPass;
    const past = this.#past;
    let [x1, x2, y1, y2] = [past[0] as number, past[1] as number, past[2] as number, past[3] as number];
    let [z1, z2, u1, u2] = [past[4] as number, past[5] as number, past[6] as number, past[7] as number];
    let [v1, v2, w1, w2] = [past[8] as number, past[9] as number, past[10] as number, past[11] as number];
    let [sumLeft, sumRight] = [0, 0];
    for (let index = from; index < to; index++) {
      const x = left[index] as number;
      const u = right[index] as number;
      const y = b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2;
      const v = b0 * u + b1 * u1 + b2 * u2 - a1 * v1 - a2 * v2;
      const z = c0 * y + c1 * y1 + c2 * y2 - d1 * z1 - d2 * z2;
      const w = c0 * v + c1 * v1 + c2 * v2 - d1 * w1 - d2 * w2;
      x2 = x1;
      x1 = x;
      u2 = u1;
      u1 = u;
      y2 = y1;
      y1 = y;
      v2 = v1;
      v1 = v;
      z2 = z1;
      z1 = z;
      w2 = w1;
      w1 = w;
      sumLeft += z * z;
      sumRight += w * w;
    }
    past.set([x1, x2, y1, y2, z1, z2, u1, u2, v1, v2, w1, w2].map(remembered));
    return sumLeft + sumRight;
  }
}

/** Measures sound as it comes. */
export class LoudnessMeter {
  readonly #weighting: Weighting;
  readonly #stepFrames: number;
  /** Energy of every finished quarter block. */
  readonly #steps: number[] = [];
  #energy = 0;
  #filled = 0;
  #peak = 0;

  constructor(sampleRate: number) {
    this.#weighting = new Weighting(kWeighting(sampleRate));
    this.#stepFrames = Math.round((BLOCK_SECONDS * sampleRate) / STEPS_A_BLOCK);
  }

  add(left: Float32Array, right: Float32Array, frames: number): void {
    for (let at = 0; at < frames;) {
      const run = Math.min(frames - at, this.#stepFrames - this.#filled);
      this.#energy += this.#weighting.energy(left, right, at, at + run);
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
