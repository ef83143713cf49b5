import { accidentalsOf, letterOf, pitchClassOf, formatNoteName, modulo, type NoteName } from './note-name.ts';

/** A MIDI note number, 0 to 127; middle C is 60. */
export type Midi = number & { readonly __brand: 'Midi' };

/** A spelled pitch: a note name in a scientific octave, that of its letter (C♭4 is a half step below C4). */
export interface Pitch {
  readonly name: NoteName;
  readonly octave: number;
}

/** Semitones of the white keys above C. */
const SEMITONES_OF_LETTER: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/**
 * A MIDI note number.
 * @throws RangeError outside 0 … 127.
 */
export function midi(value: number): Midi {
  if (!Number.isInteger(value) || value < 0 || value > 127) {
    throw new RangeError(`value must be an integer from 0 to 127, not ${value}`);
  }
  return value as Midi;
}

/**
 * The MIDI note number of a pitch.
 * @throws RangeError where it is outside 0 … 127.
 * @example midiOf({ name: noteName('Cb'), octave: 4 }) // → 59
 */
export function midiOf(pitch: Pitch): Midi {
  return midi(
    12 * (pitch.octave + 1) + (SEMITONES_OF_LETTER[letterOf(pitch.name)] as number) + accidentalsOf(pitch.name),
  );
}

/**
 * The pitch with this spelling that sounds as this MIDI note.
 * @throws RangeError where spelling and note differ in pitch class.
 */
export function pitchAt(name: NoteName, value: Midi): Pitch {
  if (pitchClassOf(name) !== modulo(value, 12)) {
    throw new RangeError(`value must sound as ${formatNoteName(name)}, not as MIDI note ${value}`);
  }
  const natural = value - accidentalsOf(name);
  return { name, octave: Math.floor(natural / 12) - 1 };
}

/** A pitch in ASCII: `Bb3`. */
export function formatPitch(pitch: Pitch): string {
  return formatNoteName(pitch.name) + pitch.octave;
}
