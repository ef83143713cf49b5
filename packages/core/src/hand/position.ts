import { midi, modulo, noteAbove, pitchClassOf, setOfNotes, type Midi, type NoteName } from '../theory/index.ts';
import type { Position, Shape } from './shape.ts';

/** Thumb 1 to little finger 5. */
export type Finger = 1 | 2 | 3 | 4 | 5;

/** Whether a number is a finger's. */
export function isFinger(value: number): value is Finger {
  return Number.isInteger(value) && value >= 1 && value <= 5;
}

export const FINGERS: readonly Finger[] = [1, 2, 3, 4, 5];

/**
 * A shape at a thumb note; its notes follow the thumb's spelling by the shape's degrees.
 * @throws RangeError where a note would need more than two accidentals.
 * @example positionAt(MINOR_PENTATONIC, noteName('G')).notes.map(formatNoteName) // → ['G', 'Bb', 'C', 'D', 'F']
 */
export function positionAt(shape: Shape, thumb: NoteName): Position {
  const notes = shape.degrees.map((each) => noteAbove(thumb, each)) as unknown as Position['notes'];
  return { shape, thumb, notes, set: setOfNotes(notes) };
}

/**
 * The keys under fingers 1 to 5 with the thumb on this key.
 * @throws RangeError where the key is not the thumb's note, or a key would lie beyond MIDI note 127.
 */
export function keysOf(position: Position, thumbMidi: Midi): Midi[] {
  if (thumbMidi % 12 !== pitchClassOf(position.thumb)) {
    throw new RangeError(`thumbMidi must sound as the position's thumb, not as MIDI note ${thumbMidi}`);
  }
  return position.shape.steps.map((step) => midi(thumbMidi + step));
}

/**
 * The keys on which the thumb can take the position between two keys of a keyboard, all five fingers on it; ascending.
 * @example thumbKeysOn(positionAt(MINOR_PENTATONIC, noteName('G')), { lowest: midi(36), highest: midi(84) }) // → [43, 55, 67]
 */
export function thumbKeysOn(position: Position, keyboard: { readonly lowest: Midi; readonly highest: Midi }): Midi[] {
  const first = keyboard.lowest + modulo(pitchClassOf(position.thumb) - keyboard.lowest, 12);
  const last = keyboard.highest - position.shape.steps[4];
  const keys: Midi[] = [];
  for (let key = first; key <= last; key += 12) keys.push(midi(key));
  return keys;
}
