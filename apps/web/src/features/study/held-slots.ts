import type { PlannedSlot } from '@fivespan/core';

function isSameChord(one: PlannedSlot, other: PlannedSlot): boolean {
  const [chord, otherChord] = [one.analysed.played.slot.chord, other.analysed.played.slot.chord];
  return chord.kind === 'chord' && otherChord.kind === 'chord' && chord.symbol === otherChord.symbol;
}

/** Whether a slot stands further on in the chart than another: over a repeat sign it does not. */
function isFurtherOn(slot: PlannedSlot, before: PlannedSlot): boolean {
  const [one, other] = [slot.analysed.played, before.analysed.played];
  const bars = one.playedBar.bar.number - other.playedBar.bar.number;
  return bars > 0 || (bars === 0 && one.slot.startTicks > other.slot.startTicks);
}

/** The slots of one played bar. */
function slotsOfBar(slots: readonly PlannedSlot[], barIndex: number): readonly PlannedSlot[] {
  return slots.filter(({ analysed }) => analysed.played.playedBar.index === barIndex);
}

function isSameBar(one: readonly PlannedSlot[], other: readonly PlannedSlot[]): boolean {
  return (
    one.length === other.length &&
    one.every((slot, place) => {
      const same = other[place];
      return (
        same !== undefined &&
        isSameChord(slot, same) &&
        slot.analysed.played.slot.startTicks === same.analysed.played.slot.startTicks
      );
    })
  );
}

/**
 * The slots after one, as they are played, in which its chord only goes on: held over the bar line or struck again; where a bar of
 * several chords is repeated (`%`), the same place in each repeat. Only what stands further on in the chart counts.
 * @param slots the form's slots in order
 * @throws RangeError where there is no slot of that index
 */
export function heldAfter(slots: readonly PlannedSlot[], index: number): readonly PlannedSlot[] {
  const own = slots[index];
  if (own === undefined) throw new RangeError(`index must be one of ${slots.length} slots, not ${index}`);
  const held: PlannedSlot[] = [];
  let last = own;
  for (const slot of slots.slice(index + 1)) {
    if (!isSameChord(own, slot) || !isFurtherOn(slot, last)) break;
    held.push((last = slot));
  }
  if (held.length > 0) return held;

  const { playedBar } = own.analysed.played;
  const bar = slotsOfBar(slots, playedBar.index);
  const place = bar.indexOf(own);
  for (let barIndex = playedBar.index + 1; ; barIndex++) {
    const next = slotsOfBar(slots, barIndex);
    const slot = next[place];
    if (slot === undefined || !isSameBar(bar, next) || !isFurtherOn(slot, last)) return held;
    held.push((last = slot));
  }
}
