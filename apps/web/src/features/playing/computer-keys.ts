/** The computer's own keys as a keyboard, where there is none: a row of thumbs, and five fingers. */
import { freeThumbs, isSameThumb, keysOfThumb, midi, type FreeThumb } from '@fivespan/core';
import { onHeldKeys } from '../../platform/keys/index.ts';
import { $settings } from '../settings/index.ts';
import { letGoKey, strikeKey } from '../sound/index.ts';
import type { FormFamily } from './form-view.ts';
import { $found, touchThumb } from './found.ts';
import { $moment, $piece } from './playing.ts';

/** By their places, so that any layout will do: the row of digits is thumbs, from the left; five neighbours of the home row are fingers. */
const THUMBS = ['Digit1', 'Digit2', 'Digit3', 'Digit4', 'Digit5', 'Digit6', 'Digit7', 'Digit8', 'Digit9', 'Digit0'];
const FINGERS = ['KeyH', 'KeyJ', 'KeyK', 'KeyL', 'Semicolon'];

/** From F3 up: where hands play. */
const FROM = { lowest: midi(53), highest: midi(108) };

let asked: readonly FormFamily[] | null = null;

/** What the computer's keys play while something else than the tune is practised. @returns how to give them back */
export function giveComputerKeys(families: readonly FormFamily[]): () => void {
  asked = families;
  return () => (asked = null);
}

/** Where the hand may go now: what is asked for, else by the chord that sounds, else by the first of the tune. */
function thumbs(): readonly FreeThumb[] {
  const piece = $piece.get();
  const form = piece?.forms[piece.segments.findIndex(({ kind }) => kind === 'chorus')];
  const families =
    asked ?? $moment.get()?.families ?? form?.slots.find((slot) => slot.families.length > 0)?.families ?? [];
  return freeThumbs(families, FROM);
}

/** Listens to the computer's keys from now on. @returns how to stop */
export function followComputerKeys(): () => void {
  const down = new Map<string, number>();
  let last: FreeThumb | undefined;
  const end = onHeldKeys((code, isDown) => {
    const held = down.get(code);
    if (!isDown) {
      if (held === undefined) return false;
      down.delete(code);
      if (![...down.values()].includes(held)) letGoKey(held);
      return true;
    }
    const [thumb, finger] = [THUMBS.indexOf(code), FINGERS.indexOf(code)];
    if (!$settings.get().computerKeys || held !== undefined || (thumb < 0 && finger < 0)) return false;
    const places = thumbs();
    const known = $found.get().place ?? places.find((each) => last !== undefined && isSameThumb(each, last));
    const place = thumb >= 0 ? places[thumb] : (known ?? places[0]);
    if (place === undefined) return false;
    last = place;
    if (thumb >= 0) touchThumb(place.thumbMidi, place.which);
    const key = keysOfThumb(place)[Math.max(0, finger)];
    if (key === undefined) return false;
    down.set(code, key);
    strikeKey(key);
    return true;
  });
  return () => {
    end();
    for (const key of down.values()) letGoKey(key);
  };
}
