import type { Midi } from './pitch.ts';

/** One partial of a sound. */
export interface SoundPartial {
  readonly frequencyHz: number;
  /** Linear, the fundamental of a note is 1. */
  readonly amplitude: number;
}

/** How a note's partials are built. */
export interface Timbre {
  /** Partials of a note, its fundamental counted. */
  readonly harmonics: number;
  /** Amplitudes by partial from 1: `ratio` to the power n − 1, or 1/n. */
  readonly amplitudes: { readonly kind: 'geometric'; readonly ratio: number } | { readonly kind: 'inverse' };
}

/** Six partials falling by 0.88. Source: Sethares 1993 as in docs/sources.md, 3 (C). */
export const SETHARES_TIMBRE: Timbre = { harmonics: 6, amplitudes: { kind: 'geometric', ratio: 0.88 } };
/** Eleven partials falling as 1/n. Source: Hutchinson and Knopoff 1978 as in docs/sources.md, 3 (R). */
export const HUTCHINSON_KNOPOFF_TIMBRE: Timbre = { harmonics: 11, amplitudes: { kind: 'inverse' } };

/** A published formula for the roughness of partials sounding together. */
export type RoughnessModel = 'sethares' | 'sethares-minimum' | 'hutchinson-knopoff' | 'vassilakis';

/** Constants of the exponential models. Source: docs/sources.md, 3. */
interface ExponentialConstants {
  readonly slow: number;
  readonly fast: number;
  readonly perHz: number;
  readonly offsetHz: number;
}

/** As printed in Sethares 1993 (R, through public code citing it). */
const PRINTED: ExponentialConstants = { slow: 3.5, fast: 5.75, perHz: 0.021, offsetHz: 19 };
/** As in the author's own program (R). */
const AUTHORS_PROGRAM: ExponentialConstants = { slow: 3.51, fast: 5.75, perHz: 0.0207, offsetHz: 18.96 };
/** As in Vassilakis 2001 (R, through public code citing it). */
const VASSILAKIS: ExponentialConstants = { slow: 3.5, fast: 5.75, perHz: 0.0207, offsetHz: 18.96 };

/** Where pure tones are roughest, as a share of the critical band's measure. Source: Plomp and Levelt 1965 (through Sethares). */
const ROUGHEST = 0.24;

/** Roughness of two pure tones of equal amplitude 1 by the difference of two exponentials. */
function exponentialCurve(
  lowHz: number,
  highHz: number,
  { slow, fast, perHz, offsetHz }: ExponentialConstants,
): number {
  const scaled = (ROUGHEST / (perHz * lowHz + offsetHz)) * (highHz - lowHz);
  return Math.exp(-slow * scaled) - Math.exp(-fast * scaled);
}

/**
 * Critical bandwidth in Hz after Hutchinson and Knopoff 1978: 1.72·f̄^0.65.
 * @example criticalBandwidthHz(400, 440) // → 87.225…
 */
export function criticalBandwidthHz(oneHz: number, otherHz: number): number {
  return 1.72 * ((oneHz + otherHz) / 2) ** 0.65;
}

/**
 * Hutchinson and Knopoff's fit of Plomp and Levelt's curve: roughness of two pure tones by their distance in critical
 * bandwidths; none past 1.2.
 * @example hutchinsonKnopoffCurve(0.5) // → 0.5413…
 */
export function hutchinsonKnopoffCurve(bandwidths: number): number {
  if (bandwidths > 1.2) return 0;
  const ratio = bandwidths / 0.25;
  return (ratio * Math.exp(1 - ratio)) ** 2;
}

/** Roughness of one pair of partials, before any normalising. */
function pairRoughness(a: SoundPartial, b: SoundPartial, model: RoughnessModel): number {
  const [low, high] = a.frequencyHz <= b.frequencyHz ? [a, b] : [b, a];
  const [lowHz, highHz] = [low.frequencyHz, high.frequencyHz];
  const smaller = Math.min(a.amplitude, b.amplitude);
  switch (model) {
    case 'sethares':
      return a.amplitude * b.amplitude * exponentialCurve(lowHz, highHz, PRINTED);
    case 'sethares-minimum':
      return smaller * exponentialCurve(lowHz, highHz, AUTHORS_PROGRAM);
    case 'hutchinson-knopoff':
      return a.amplitude * b.amplitude * hutchinsonKnopoffCurve((highHz - lowHz) / criticalBandwidthHz(lowHz, highHz));
    case 'vassilakis':
      return (
        (a.amplitude * b.amplitude) ** 0.1 *
        0.5 *
        ((2 * smaller) / (a.amplitude + b.amplitude)) ** 3.11 *
        exponentialCurve(lowHz, highHz, VASSILAKIS)
      );
    default:
      return model satisfies never;
  }
}

/**
 * Roughness of partials sounding together, by a published formula. Sethares 1993 sums over pairs (amplitudes multiplied;
 * 'sethares-minimum': the smaller one, with the constants of the author's program, 2005); Hutchinson and Knopoff 1978
 * divides by the sum of squared amplitudes; Vassilakis 2001. Sources and golden values: docs/sources.md, 3.
 * Unbounded and comparable only within one model: see relativeRoughness for a 0–1 scale.
 * @example roughnessOf(partialsOf([60, 61].map(midi), HUTCHINSON_KNOPOFF_TIMBRE), 'hutchinson-knopoff') // → 0.484…
 */
export function roughnessOf(partials: readonly SoundPartial[], model: RoughnessModel): number {
  let sum = 0;
  for (const [index, a] of partials.entries()) {
    for (const b of partials.slice(index + 1)) sum += pairRoughness(a, b, model);
  }
  if (model !== 'hutchinson-knopoff') return sum;
  const power = partials.reduce((total, { amplitude }) => total + amplitude * amplitude, 0);
  return power === 0 ? 0 : sum / power;
}

/** Frequency in equal temperament, A4 = 440 Hz. */
function frequencyHzOf(note: number): number {
  return 440 * 2 ** ((note - 69) / 12);
}

/**
 * The partials of notes sounding together, each note's own harmonics.
 * @throws RangeError where the timbre has no partial.
 */
export function partialsOf(notes: readonly Midi[], { harmonics, amplitudes }: Timbre): SoundPartial[] {
  if (!Number.isInteger(harmonics) || harmonics < 1) {
    throw new RangeError(`harmonics must be a positive integer, not ${harmonics}`);
  }
  return notes.flatMap((note) =>
    Array.from({ length: harmonics }, (_, index) => ({
      frequencyHz: frequencyHzOf(note) * (index + 1),
      amplitude: amplitudes.kind === 'inverse' ? 1 / (index + 1) : amplitudes.ratio ** index,
    })),
  );
}
