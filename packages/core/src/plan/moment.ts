import { barTicksOf, beatsOf, beatTicksOf, type PlayedSlot } from '../chart/index.ts';

/** A stretch of a played slot over which the hand keeps its position. */
export interface Moment {
  readonly slotIndex: number;
  /** Ticks from the first full bar. */
  readonly startTicks: number;
  readonly endTicks: number;
}

/** How often the hand may move: with every chord, or inside a chord also at the middle of the bar. */
export type MoveEvery = 'chord' | 'half bar';

/** Where a full bar is halved, in ticks from its start: on the beat, the longer half first (3/4: after two beats). */
function middleOf({ playedBar }: PlayedSlot): number {
  const { meter, durationTicks } = playedBar.bar;
  const middle = Math.ceil(beatsOf(meter) / 2) * beatTicksOf(meter);
  // a pickup ends where its bar would
  return playedBar.startTicks + durationTicks - barTicksOf(meter) + middle;
}

/** The moments of a played slot, in order. */
export function momentsOf(played: PlayedSlot, every: MoveEvery): readonly Moment[] {
  const { index: slotIndex, startTicks, endTicks } = played;
  const middle = middleOf(played);
  if (every === 'chord' || middle <= startTicks || middle >= endTicks) return [{ slotIndex, startTicks, endTicks }];
  return [
    { slotIndex, startTicks, endTicks: middle },
    { slotIndex, startTicks: middle, endTicks },
  ];
}
