/**
 * Minutes and seconds, as a player's clock shows them.
 * @param seconds from 0; a millionth short of a second counts as it
 * @example clockText(65.4) // → '1:05'
 */
export function clockText(seconds: number): string {
  const whole = Math.floor(seconds + 1e-6);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
