import type { Finger } from '../../hand/index.ts';
import type { DrillKind } from './drill-kind.ts';
import { fingersThrough } from './drill-note.ts';
import { barOver, eachChordOnce, isHeld } from './passage.ts';

/**
 * Orders of the five fingers, the plainest first: by neighbours, in thirds, thirds from above, in fourths, the outer
 * fingers against the middle ones. Common practice of five-finger studies.
 */
export const FINGER_PATTERNS: readonly (readonly Finger[])[] = [
  [1, 2, 3, 4, 5, 4, 3, 2],
  [1, 3, 2, 4, 3, 5, 4, 2],
  [5, 3, 4, 2, 3, 1, 2, 4],
  [1, 4, 2, 5, 3, 1, 4, 2],
  [1, 5, 2, 4, 3, 5, 1, 4],
];

/** One position, the fingers in every order: a bar for each pattern. */
export const fingerPatterns: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { level }) =>
    eachChordOnce(bars).flatMap(({ source, slot }) =>
      FINGER_PATTERNS.slice(0, level + 1).map((pattern) => ({
        label: { code: 'drill.pattern', args: { fingers: pattern.join(' ') } },
        bars: [barOver(source, slot)],
        write: (slots) => slots.filter(isHeld).flatMap((each) => fingersThrough(each, pattern)),
      })),
    ),
};
