import {
  BLACK_KEY_LENGTH_MM,
  BLACK_KEY_WIDTH_MM,
  isBlack,
  keyCentreMm,
  midi,
  WHITE_KEY_LENGTH_MM,
  type Midi,
} from '@fivespan/core';

/**
 * Keys are drawn at their true places and widths, but shorter than they are, as they look from the bench. Ours: 118 mm
 * for a white key keeps five keys' numerals and a row of degrees apart without making the picture tall.
 */
const DRAWN_WHITE_MM = 118;
const DRAWN_BLACK_MM = Math.round((DRAWN_WHITE_MM * BLACK_KEY_LENGTH_MM) / WHITE_KEY_LENGTH_MM);

/** A key's rectangle in a picture, in millimetres from the picture's upper left key corner; the front edge is below. */
export interface DrawnKey {
  readonly midi: Midi;
  readonly black: boolean;
  readonly xMm: number;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly centreMm: number;
}

/** A stretch of keyboard, beginning and ending with white keys. */
export interface KeyboardLayout {
  readonly lowest: Midi;
  readonly highest: Midi;
  readonly keys: readonly DrawnKey[];
  readonly widthMm: number;
  readonly lengthMm: number;
}

function whiteBelow(key: Midi): Midi {
  return midi(isBlack(key - 1) ? key - 2 : key - 1);
}

function whiteAbove(key: Midi): Midi {
  return midi(isBlack(key + 1) ? key + 2 : key + 1);
}

/** Where two neighbouring white keys meet: half way between their middles. */
function edgeAbove(key: Midi): number {
  return (keyCentreMm(key) + keyCentreMm(whiteAbove(key))) / 2;
}

/**
 * Places the keys of a stretch; its ends are widened to white keys.
 * @throws RangeError where the stretch is empty or reaches beyond MIDI notes 2 to 125.
 * @example layOutKeyboard(midi(60), midi(71)).keys.length // → 12
 */
export function layOutKeyboard(lowest: Midi, highest: Midi): KeyboardLayout {
  if (lowest > highest) throw new RangeError(`lowest must not lie above highest: ${lowest} > ${highest}`);
  if (lowest < 2 || highest > 125) throw new RangeError('lowest and highest must lie between MIDI notes 2 and 125');
  const first = isBlack(lowest) ? whiteBelow(lowest) : lowest;
  const last = isBlack(highest) ? whiteAbove(highest) : highest;
  const leftMm = edgeAbove(whiteBelow(first));
  const keys: DrawnKey[] = [];
  for (let value: number = first; value <= last; value++) {
    const key = midi(value);
    const centreMm = keyCentreMm(key) - leftMm;
    if (isBlack(value)) {
      const xMm = centreMm - BLACK_KEY_WIDTH_MM / 2;
      keys.push({ midi: key, black: true, xMm, widthMm: BLACK_KEY_WIDTH_MM, lengthMm: DRAWN_BLACK_MM, centreMm });
    } else {
      const xMm = edgeAbove(whiteBelow(key)) - leftMm;
      const widthMm = edgeAbove(key) - leftMm - xMm;
      keys.push({ midi: key, black: false, xMm, widthMm, lengthMm: DRAWN_WHITE_MM, centreMm });
    }
  }
  return { lowest: first, highest: last, keys, widthMm: edgeAbove(last) - leftMm, lengthMm: DRAWN_WHITE_MM };
}
