import { keyCentreMm, OCTAVE_MM } from '../keyboard.ts';
import type { Midi } from '../../theory/index.ts';

/** The way from one key to another in a model's units: positive upwards, an integer, 0 only for the same key. */
export type Ruler = (from: Midi, to: Midi) => number;

/** Semitones, as in Parncutt et al. 1997. */
export const semitoneRuler: Ruler = (from, to) => to - from;

/**
 * Millimetres between the keys' centres, sorted into bins: the bin is the number of semitones whose average distance is
 * nearest. Source: Jacobs 2001, Music Perception 18:505–511, as in the public code dvdrndlph/pydactyl; that code's octave
 * is 164 mm, the paper's said to be 165 (docs/sources.md, 2).
 */
export const millimetreRuler: Ruler = (from, to) => {
  if (from === to) return 0;
  // doubled, so that half millimetres are integers; a bin's upper bound is half a semitone above its average
  const doubledMm = 2 * Math.abs(keyCentreMm(from) - keyCentreMm(to));
  const bin = Math.max(1, Math.ceil((12 * doubledMm - OCTAVE_MM) / (2 * OCTAVE_MM)));
  return to > from ? bin : -bin;
};

/** Keys counted as if there were a black one between E and F and between B and C: 14 to the octave. */
function placeWithImaginaryKeys(key: Midi): number {
  const withinOctave = key % 12;
  return 14 * Math.floor(key / 12) + withinOctave + (withinOctave > 4 ? 1 : 0);
}

/** Steps of a keyboard with imaginary black keys. Source: Balliauw et al. 2017 (docs/sources.md, 2). */
export const imaginaryKeyRuler: Ruler = (from, to) => placeWithImaginaryKeys(to) - placeWithImaginaryKeys(from);
