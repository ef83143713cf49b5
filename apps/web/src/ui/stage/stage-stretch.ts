/** Which keys a stage shows: as many as fit by the room it is given, never by what is drawn in it. */
import { isBlack, midi, type Midi } from '@fivespan/core';
import type { KeyboardStretch } from '../keyboard/stretch.ts';

/** Narrower white keys cannot be distinguished from the bench; on a phone, held nearer, not below the other. */
const NARROWEST_WHITE_PX = 30;
const NARROWEST_WHITE_PHONE_PX = 22;
/** From here on it is no phone. */
export const BENCH_FROM_PX = 600;

/** The keys of an 88-key keyboard. */
const LOWEST = 21;
const HIGHEST = 108;

/** White keys at which a picture looks cut cleanly: C and F. */
const isCleanStart = (key: number): boolean => key % 12 === 0 || key % 12 === 5;

const whitesIn = (lowest: number, highest: number): number => {
  let count = 0;
  for (let key = lowest; key <= highest; key++) if (!isBlack(key)) count++;
  return count;
};

/** How many white keys a room of some width shows at least: fewer would be boards, not keys. */
export function fewestWhites(widthPx: number): number {
  return widthPx < BENCH_FROM_PX ? 11 : widthPx < 1100 ? 14 : 20;
}

export function mostWhites(widthPx: number): number {
  return Math.floor(widthPx / (widthPx < BENCH_FROM_PX ? NARROWEST_WHITE_PHONE_PX : NARROWEST_WHITE_PX));
}

/** White keys of a free hand's picture are at least so wide: three tabs of an octave stand side by side then. */
const FREE_WHITE_PX = 33;
const FREE_WHITE_PHONE_PX = 29.5;
/** C to G, an octave higher: an octave and a half. */
const OCTAVE_AND_A_HALF = 12;

/**
 * The keys a free hand is shown: whole octaves from a C, as many as letters read from the bench leave room for; an octave and a half
 * on a phone. They depend on the width alone.
 * @example freeStretch(968) // → C3 to C7: four octaves on a tablet
 */
export function freeStretch(widthPx: number): KeyboardStretch {
  const whites = Math.floor(widthPx / (widthPx < BENCH_FROM_PX ? FREE_WHITE_PHONE_PX : FREE_WHITE_PX));
  const octaves = Math.max(1, Math.min(7, Math.floor((whites - 1) / 7)));
  if (octaves === 1) return stretchFrom(60, whites >= OCTAVE_AND_A_HALF ? OCTAVE_AND_A_HALF : 8);
  // C4 for two, C3 for three and four, C2 from five on: what is added is where hands play
  const lowest = octaves === 2 ? 60 : octaves <= 4 ? 48 : octaves <= 6 ? 36 : 24;
  return { lowest: midi(lowest), highest: midi(lowest + 12 * octaves) };
}

/** A stretch of so many white keys from a white key on, within 88 keys. */
function stretchFrom(start: number, whites: number): KeyboardStretch {
  let lowest = start;
  while (isBlack(lowest)) lowest--;
  let highest = lowest;
  for (let count = 1; count < whites && highest < HIGHEST;) {
    highest++;
    if (!isBlack(highest)) count++;
  }
  while (whitesIn(lowest, highest) < whites && lowest > LOWEST) lowest--;
  while (isBlack(lowest)) lowest--;
  return { lowest: midi(lowest), highest: midi(highest) };
}

/**
 * The stretch a stage shows. Where everything the hand travels over has room, that, widened to a clean look: it stays as it is.
 * Else so many keys as fit, from a clean start below what must be seen; their number never changes.
 * @param widthPx of the room it is given
 * @param seen keys that must be seen now, the most important first
 * @example stageStretch(1000, { lowest: midi(62), highest: midi(79) }, []) // → C4 to B5: two octaves
 */
export function stageStretch(
  widthPx: number,
  travels: { readonly lowest: Midi; readonly highest: Midi },
  seen: readonly Midi[],
): KeyboardStretch {
  let start: number = travels.lowest;
  while (!isCleanStart(start)) start--;
  const needed = whitesIn(start, isBlack(travels.highest) ? travels.highest + 1 : travels.highest);
  const most = mostWhites(widthPx);
  if (needed <= most) {
    const whites = Math.max(needed, Math.min(fewestWhites(widthPx), most));
    // what is added is shared by both sides, the left taking whole clean stretches
    let from = start;
    const spare = whites - needed;
    if (spare >= 8) from -= 12;
    else if (spare >= 4) {
      do from--;
      while (!isCleanStart(from));
    }
    return stretchFrom(from, whites);
  }
  // a window of a fixed number of keys; of what must be seen as much as it holds, from the first on
  let low = seen[0] ?? start;
  let high = low;
  for (const key of seen) {
    const [toLow, toHigh] = [Math.min(low, key), Math.max(high, key)];
    if (whitesIn(toLow - 1, toHigh + 1) > most) break;
    [low, high] = [toLow as Midi, toHigh as Midi];
  }
  let from: number = low;
  while (!isCleanStart(from)) from--;
  // a black key is only whole with the white one above it
  if (whitesIn(from, isBlack(midi(high)) ? high + 1 : high) > most) from = low;
  return stretchFrom(from, most);
}
