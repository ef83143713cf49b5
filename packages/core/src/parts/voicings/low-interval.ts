import type { Midi } from '../../theory/index.ts';

/**
 * The lowest key on which each interval still sounds clear, by semitones: below it two notes are mud. Minor second E3, major
 * second E♭3, minor third C3, major third B2, fourth A2, tritone B1, fifth C♯2, sixths and sevenths F2. Common practice;
 * lists differ by a key or two.
 */
export const LOWEST_KEY_OF_INTERVAL: Readonly<Record<number, number>> = {
  1: 52,
  2: 51,
  3: 48,
  4: 47,
  5: 45,
  6: 35,
  7: 37,
  8: 41,
  9: 41,
  10: 41,
  11: 41,
};

/**
 * Whether every two neighbouring notes lie above their interval's limit.
 * @param keys ascending
 * @example isClear([40, 44].map(midi)) // → false: a third on E2
 */
export function isClear(keys: readonly Midi[]): boolean {
  return keys.every((key, index) => {
    const next = keys[index + 1];
    return next === undefined || key >= (LOWEST_KEY_OF_INTERVAL[next - key] ?? 0);
  });
}
