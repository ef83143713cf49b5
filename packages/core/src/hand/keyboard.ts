import { modulo, type Midi } from '../theory/index.ts';

/**
 * Centres of the twelve keys, in millimetres from the octave's C. Source: 'physical ruler' of the public code
 * dvdrndlph/pydactyl, Parncutt.py (docs/sources.md, 1; the code cites Jacobs 2001).
 * All are whole or half millimetres, so that sums and differences are exact.
 */
const CENTRES_FROM_C_MM: readonly number[] = [0, 9.5, 23.5, 37.5, 47, 70.5, 78.5, 94, 105.5, 117, 132.5, 140.5];

/** From C to the next C, of the same source. */
export const OCTAVE_MM = 164;

/** A white key at its front edge: a seventh of the octave of 164.5 mm. Source: docs/sources.md, 1. */
export const WHITE_KEY_WIDTH_MM = 23.5;

/** A black key at its base; published widths lie between 9.5 and 11 mm. Source: docs/sources.md, 1. */
export const BLACK_KEY_WIDTH_MM = 11;

/** Lengths of the keys as one sees them: whites 150, blacks 95 mm. Source: docs/sources.md, 1 (94–96 mm; six inches). */
export const WHITE_KEY_LENGTH_MM = 150;
export const BLACK_KEY_LENGTH_MM = 95;

const BLACK_CLASSES = 0b010101001010;

/** Whether a key is black; takes any integer, so that it serves pitch classes as well as MIDI notes. */
export function isBlack(value: number): boolean {
  return (BLACK_CLASSES & (1 << modulo(value, 12))) !== 0;
}

/**
 * Where the middle of a key is, in millimetres to the right of the middle of MIDI note 0 (a C).
 * @example keyCentreMm(midi(60)) // → 820
 */
export function keyCentreMm(key: Midi): number {
  return OCTAVE_MM * Math.floor(key / 12) + (CENTRES_FROM_C_MM[key % 12] as number);
}

/**
 * The way from the middle of one key to the middle of another, in millimetres, never negative.
 * @example distanceMm(midi(60), midi(67)) // → 94
 */
export function distanceMm(a: Midi, b: Midi): number {
  return Math.abs(keyCentreMm(a) - keyCentreMm(b));
}
