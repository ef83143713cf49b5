import type { Finger } from '../../hand/index.ts';
import type { DrillKind } from './drill-kind.ts';
import { fingersThrough, noteUnder } from './drill-note.ts';
import { barsInTime, isHeld } from './passage.ts';

const UP_AND_DOWN: readonly Finger[] = [1, 2, 3, 4, 5, 4, 3, 2];

/** The thumb alone at each change, then the whole position from the thumb up. */
export const thumbsFirst: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars) => {
    if (!bars.some(({ slots }) => slots.some(isHeld))) return [];
    return [
      {
        label: { code: 'drill.thumbs-alone', args: {} },
        bars: barsInTime(bars),
        write: (slots) =>
          slots.filter(isHeld).map((slot) => {
            const { startTicks, endTicks } = slot.analysed.played;
            return noteUnder(slot, 1, startTicks, endTicks - startTicks);
          }),
      },
      {
        label: { code: 'drill.whole-positions', args: {} },
        bars: barsInTime(bars),
        write: (slots) => slots.filter(isHeld).flatMap((slot) => fingersThrough(slot, UP_AND_DOWN)),
      },
    ];
  },
};
