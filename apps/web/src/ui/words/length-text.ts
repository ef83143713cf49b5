/**
 * A length of time as musicians say it, to the second.
 * @example lengthText(149.6) // → '2 min 30 s'
 */
export function lengthText(seconds: number): string {
  const whole = Math.round(seconds);
  const minutes = Math.floor(whole / 60);
  return minutes === 0 ? `${whole} s` : `${minutes} min ${whole % 60} s`;
}
