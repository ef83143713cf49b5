import { beatTicksOf } from '../../chart/index.ts';
import type { Finger } from '../../hand/index.ts';
import type { DrillKind } from './drill-kind.ts';
import { cellOf, noteUnder } from './drill-note.ts';
import { barsInTime, isHeld, type HeldSlot } from './passage.ts';

/** A finger more each time; from the third on they go up and down. */
const ROUNDS: readonly (readonly Finger[])[] = [
  [1],
  [1, 2],
  [1, 2, 3, 2],
  [1, 2, 3, 4, 3, 2],
  [1, 2, 3, 4, 5, 4, 3, 2],
];

/** Fingers in turn, on the beats or after them, so that the right hand does not lean on the left. */
function beatsOf(slot: HeldSlot, fingers: readonly Finger[], afterBeat: boolean) {
  const { startTicks, endTicks, playedBar } = slot.analysed.played;
  const beatTicks = beatTicksOf(playedBar.bar.meter);
  // a beat that cannot be parted has nothing after it
  const lateTicks = afterBeat && cellOf(slot) < beatTicks ? beatTicks - cellOf(slot) : 0;
  const notes = [];
  for (let ticks = startTicks + lateTicks, step = 0; ticks < endTicks; ticks += beatTicks, step++) {
    const finger = fingers[step % fingers.length] as Finger;
    notes.push(noteUnder(slot, finger, ticks, Math.min(beatTicks - lateTicks, endTicks - ticks)));
  }
  return notes;
}

/** The bass walks on the same while the right hand adds a finger each time through; from level 3 on after the beat. */
export const handIndependence: DrillKind = {
  leftHand: 'walks the same each time',
  inPositions: true,
  passages: (bars, { level }) =>
    bars.some(({ slots }) => slots.some(isHeld))
      ? ROUNDS.map((fingers, index) => ({
          label: { code: 'drill.fingers', args: { count: String(index + 1) } },
          bars: barsInTime(bars),
          write: (slots) => slots.filter(isHeld).flatMap((slot) => beatsOf(slot, fingers, level > 2)),
        }))
      : [],
};
