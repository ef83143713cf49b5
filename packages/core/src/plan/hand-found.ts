import { midi, type Midi } from '../theory/index.ts';
import { isSameThumb, type FreeThumb } from './free-thumbs.ts';

/** Where a hand was found that plays freely; it is found, never guessed. */
export interface HandFound {
  /** Null until what was played can lie in one place only. */
  readonly place: FreeThumb | null;
  /** Keys struck since it was last found, the latest last; each once. */
  readonly struck: readonly Midi[];
}

export const NOWHERE_FOUND: HandFound = { place: null, struck: [] };

/** A hand has five fingers: what was struck before the last five keys says nothing about where it is. */
const FINGERS_OF_HAND = 5;

/** Whether a place holds a key. */
export function holdsKey({ thumbMidi, position }: FreeThumb, key: Midi): boolean {
  return position.shape.steps.includes(key - thumbMidi);
}

/**
 * A key is struck. Within the hand's place the hand stays; else it is where the latest keys, as many of them as lie in one place
 * together, allow one place only. A key that no place holds says nothing.
 * @param places where the hand may lie now: all octaves, also those beyond the picture
 */
export function strike({ place, struck }: HandFound, key: Midi, places: readonly FreeThumb[]): HandFound {
  const latest = [...struck.filter((each) => each !== key), key].slice(-FINGERS_OF_HAND);
  if (place !== null && holdsKey(place, key)) return { place, struck: latest };
  const holding = places.filter((each) => holdsKey(each, key));
  if (holding.length === 0) return { place, struck };
  // the most of the latest keys that some place holds together
  for (let count = latest.length; count >= 1; count--) {
    const last = latest.slice(-count);
    const found = holding.filter((each) => last.every((held) => holdsKey(each, held)));
    if (found.length === 0) continue;
    const isSure = found.length === 1 || found.every((each) => sameKeys(each, found[0] as FreeThumb));
    return { place: isSure ? (found[0] as FreeThumb) : null, struck: last };
  }
  return { place: null, struck: [key] };
}

function sameKeys(a: FreeThumb, b: FreeThumb): boolean {
  return keysOfThumb(a).join() === keysOfThumb(b).join();
}

/** The five keys of a place, the thumb's first. */
export function keysOfThumb({ thumbMidi, position }: FreeThumb): Midi[] {
  return position.shape.steps.map((step) => midi(thumbMidi + step));
}

/** The chord changes: a place that the new families have too stays; else the hand is nowhere until it is found again. */
export function foundAfterChange(found: HandFound, places: readonly FreeThumb[]): HandFound {
  const { place } = found;
  if (place === null) return NOWHERE_FOUND;
  const same = places.find((each) => isSameThumb(each, place));
  return same === undefined ? NOWHERE_FOUND : { place: same, struck: found.struck };
}
