import type { Plan, PlannedSlot } from '../../plan/index.ts';
import type { Midi } from '../../theory/index.ts';
import { slotAt } from './slot-at.ts';

/** A note that has been sung, or is about to be. */
export interface Sung {
  readonly startTicks: number;
  readonly midi: Midi;
}

/**
 * A key is circled where it has more than a third of the notes of two bars, and four of them or more. Source: two bars of eight
 * notes or more in open Weimar solos, the commonest key's share: median 21, p75 27, p90 36, p95 40 of 100 (2,921 windows; C).
 */
const MOST_SHARE = 3;
const FEWEST = 4;

/** The bar that sounds at a tick, from 0. */
function barAt(plan: Plan, ticks: number): number {
  return (plan.slots[slotAt(plan, ticks)] as PlannedSlot).analysed.played.playedBar.index;
}

/** Notes of a line that circle their key, as indices; what was sung just before counts too. */
export function circling(plan: Plan, before: readonly Sung[], line: readonly Sung[]): number[] {
  const all = [...before, ...line].map((note) => ({ midi: note.midi, bar: barAt(plan, note.startTicks) }));
  const bars = [...new Set(all.map(({ bar }) => bar))];
  const tired = new Set<number>();
  for (const bar of bars) {
    const places = [...all.keys()].filter((index) => [bar, bar + 1].includes((all[index] as (typeof all)[number]).bar));
    for (const key of new Set(places.map((index) => (all[index] as (typeof all)[number]).midi))) {
      const own = places.filter((index) => (all[index] as (typeof all)[number]).midi === key);
      if (own.length < FEWEST || own.length * MOST_SHARE <= places.length) continue;
      for (const index of own) if (index >= before.length) tired.add(index - before.length);
    }
  }
  return [...tired].toSorted((a, b) => a - b);
}
