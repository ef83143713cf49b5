import type { Plan, PlannedSlot } from '../../plan/index.ts';

/** The slot that sounds at a tick of the form. Slots ascend without gaps. */
export function slotAt({ slots }: Plan, ticks: number): number {
  let [low, high] = [0, slots.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((slots[middle] as PlannedSlot).analysed.played.startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return low;
}
