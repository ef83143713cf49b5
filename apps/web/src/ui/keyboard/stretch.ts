import { midi, type Midi } from '@fivespan/core';

/** A stretch of keyboard, by its lowest and highest keys. */
export interface KeyboardStretch {
  readonly lowest: Midi;
  readonly highest: Midi;
}

/** Three octaves in which every thumb of a route lies (plan: register), F3 to E6. */
export const WHOLE_STRETCH: KeyboardStretch = { lowest: midi(53), highest: midi(88) };

/** White keys at which a picture looks cut cleanly: C and F below. */
const CLEAN_STARTS: readonly number[] = [0, 5];
/** Two octaves less one key. */
const NARROW_SEMITONES = 23;

/** Two octaves that begin at the clean white key under the thumb. */
export function stretchAround(thumb: Midi): KeyboardStretch {
  let lowest: number = thumb;
  while (!CLEAN_STARTS.includes(lowest % 12)) lowest--;
  return { lowest: midi(lowest), highest: midi(lowest + NARROW_SEMITONES) };
}
