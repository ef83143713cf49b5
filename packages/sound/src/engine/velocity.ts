/**
 * The bank's velocity that the softest touch plays. Read literally, velocity 1 lies 84 dB under the loudest note, which nobody
 * hears; from here it is 44 dB, about the range of a concert grand (from memory).
 */
const SOFTEST = 10;

/**
 * The velocity that the bank is played with: 1 … 127 spread over what can be heard.
 * @param velocity as in MIDI, 1 to 127; whole numbers
 * @throws {RangeError} outside 1 … 127
 * @example soundingVelocity(1) // → 10
 * @example soundingVelocity(127) // → 127
 */
export function soundingVelocity(velocity: number): number {
  if (!Number.isInteger(velocity) || velocity < 1 || velocity > 127) {
    throw new RangeError(`velocity must be a whole number from 1 to 127, not ${velocity}`);
  }
  return SOFTEST + Math.round(((velocity - 1) * (127 - SOFTEST)) / 126);
}
