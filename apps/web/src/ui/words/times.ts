const ORDINALS = ['', 'first', 'second', 'third', 'fourth', 'fifth', 'sixth'];

/**
 * Which time a bar is played.
 * @param pass from 1
 * @example timeText(2) // → 'second time'
 */
export function timeText(pass: number): string {
  return `${ORDINALS[pass] ?? `${pass}th`} time`;
}
