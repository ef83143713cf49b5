import { barsOf, type Chart, type Form } from '../../chart/index.ts';
import type { Key } from '../../theory/index.ts';

/** The key a chart states inside itself, by slot of the form; null where the home key is in force. */
export type StatedKeys = readonly (Key | null)[];

/**
 * The key in force at every slot, as the signatures on paper say: a key change holds for the written bars after it, and a
 * jump back to the top is back in the first key.
 */
export function statedKeysOf(chart: Chart, form: Form): StatedKeys {
  const inForce = new Map<string, Key | null>();
  let key: Key | null = null;
  for (const bar of barsOf(chart)) {
    if (bar.keyChange !== null) key = bar.keyChange;
    inForce.set(bar.id, key);
  }
  return form.slots.map(({ playedBar }) => inForce.get(playedBar.bar.id) ?? null);
}

/** Slots at which another key comes into force. */
export function keyChangeSlots(stated: StatedKeys): number[] {
  return [...stated.keys()].filter((slot) => slot > 0 && stated[slot] !== stated[slot - 1]);
}
