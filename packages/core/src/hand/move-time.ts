import type { Midi } from '../theory/index.ts';
import { distanceMm, isBlack, OCTAVE_MM, WHITE_KEY_WIDTH_MM } from './keyboard.ts';

/**
 * Time for a hand to find a key, in hundredths of a second: a tenth of a second for each bit of log₂(2 · way / width of the key).
 * Source: Fitts 1954, Journal of Experimental Psychology 47:381–391, about ten bits a second (from memory). The thumb's key is the
 * target.
 */
const HUNDREDTHS_A_TENTH_BIT = 1;

/** How wide a black key is to a thumb that looks for it: a twelfth of the octave (docs/sources.md, 1: 13.7 mm in the mean). */
const BLACK_TARGET_MM = OCTAVE_MM / 12;

/** 2^(n/10) in ten-thousandths, so that what follows from it is the same on every machine. */
const TENTH_POWERS = [10000, 10718, 11487, 12311, 13195, 14142, 15157, 16245, 17411, 18661] as const;

/** log₂ of a ratio in tenths, rounded up; 0 for 1 and less. */
function tenthsOfBits(ratio: number): number {
  for (let tenths = 0; ; tenths++) {
    const power = ((TENTH_POWERS[tenths % 10] as number) / 10000) * 2 ** Math.floor(tenths / 10);
    if (power >= ratio) return tenths;
  }
}

/**
 * How long a hand takes from one key to another, in hundredths of a second; 0 where it stays.
 * @example moveHundredths(midi(60), midi(67)) // → 30: three tenths of a second for 94 mm
 */
export function moveHundredths(from: Midi, to: Midi): number {
  if (from === to) return 0;
  const widthMm = isBlack(to) ? BLACK_TARGET_MM : WHITE_KEY_WIDTH_MM;
  return HUNDREDTHS_A_TENTH_BIT * tenthsOfBits((2 * distanceMm(from, to)) / widthMm);
}
