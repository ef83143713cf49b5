/** How free a chorus is: 1 plain, 2 flowing, 3 free, 4 with everything a hand can do. */
export type ChorusLevel = 1 | 2 | 3 | 4;

export const CHORUS_LEVELS: readonly ChorusLevel[] = [1, 2, 3, 4];

/** One number a level. */
export type ByLevel = readonly [number, number, number, number];

/** A row of a table by level, at one level. */
export function atLevel(row: ByLevel, level: ChorusLevel): number {
  return row[level - 1] as number;
}
