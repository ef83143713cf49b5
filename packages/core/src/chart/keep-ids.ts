import { barsOf, type Bar, type BarId, type Chart, type Slot, type SlotId } from './chart.ts';
import { matchSequences } from './sequence-match.ts';

/** What makes two bars the same to a reader: metre and chords; not the repeat signs and marks round them. */
function contentOf(bar: Bar): string {
  const slots = bar.slots.map((slot) => `${slot.startTicks}:${slot.chord.symbol}`);
  return `${bar.meter.count}/${bar.meter.unit} ${bar.durationTicks} ${slots.join(' ')}`;
}

/**
 * Pairs what was changed in place: between two items that stayed, as many gone as new, one for one in order.
 */
function pairChanged(matches: readonly (number | null)[], countBefore: number): (number | null)[] {
  const paired = [...matches];
  let start = 0;
  let beforeStart = 0;
  for (let index = 0; index <= matches.length; index++) {
    const match = index === matches.length ? countBefore : (matches[index] ?? null);
    if (match === null) continue;
    if (index - start === match - beforeStart) {
      for (let offset = 0; start + offset < index; offset++) paired[start + offset] = beforeStart + offset;
    }
    start = index + 1;
    beforeStart = match + 1;
  }
  return paired;
}

/** The number an id ends in: 12 for `b12` and for `b3.12`. */
function numberOf(id: string): number {
  return Number(/\d+$/u.exec(id)?.[0] ?? 0);
}

/** New ids with a prefix, none of them one of `taken`. */
function freshIds(prefix: string, taken: readonly string[]): () => string {
  let last = taken.reduce((highest, id) => Math.max(highest, numberOf(id)), 0);
  return () => `${prefix}${++last}`;
}

function keepSlotIds(before: Bar | undefined, after: Bar, barId: BarId): Slot[] {
  const left = [...(before?.slots ?? [])];
  const take = (isIt: (slot: Slot) => boolean): SlotId | undefined => {
    const index = left.findIndex(isIt);
    return index < 0 ? undefined : left.splice(index, 1)[0]?.id;
  };
  // the same chord at the same place first, then what now stands at a place that was there
  const same = after.slots.map((slot) =>
    take((each) => each.startTicks === slot.startTicks && each.chord.symbol === slot.chord.symbol),
  );
  const kept = after.slots.map((slot, index) => same[index] ?? take((each) => each.startTicks === slot.startTicks));
  const fresh = freshIds(`${barId}.`, before?.slots.map((slot) => slot.id) ?? []);
  return after.slots.map((slot, index) => ({ ...slot, id: kept[index] ?? (fresh() as SlotId) }));
}

/**
 * The chart `after` with the ids of `before` wherever a bar or slot is still the same one: bars that did not change keep
 * theirs when others are put in, taken out or edited; a bar edited in place keeps its id, and its slots those at their
 * places. What is new gets an id that `before` does not have.
 * @example barsOf(keepIds(chartOf('Fm7 | Bb7'), chartOf('Fm7 | C7 | Bb7'))).map((bar) => bar.id) // → ['b1', 'b3', 'b2']
 */
export function keepIds(before: Chart, after: Chart): Chart {
  const barsBefore = barsOf(before);
  const barsAfter = barsOf(after);
  const matches = pairChanged(matchSequences(barsBefore.map(contentOf), barsAfter.map(contentOf)), barsBefore.length);
  const freshBarId = freshIds(
    'b',
    barsBefore.map((bar) => bar.id),
  );
  const sectionMatches = pairChanged(
    matchSequences(
      before.sections.map((section) => section.name ?? ''),
      after.sections.map((section) => section.name ?? ''),
    ),
    before.sections.length,
  );
  const freshSectionId = freshIds(
    's',
    before.sections.map((section) => section.id),
  );
  let index = 0;
  return {
    ...after,
    sections: after.sections.map((section, place) => {
      const sectionMatch = sectionMatches[place] ?? null;
      return {
        ...section,
        id: sectionMatch === null ? freshSectionId() : (before.sections[sectionMatch]?.id as string),
        bars: section.bars.map((bar) => {
          const match = matches[index++] ?? null;
          const same = match === null ? undefined : barsBefore[match];
          const id = same?.id ?? (freshBarId() as BarId);
          return { ...bar, id, slots: keepSlotIds(same, bar, id) };
        }),
      };
    }),
  };
}

/**
 * Where the slots of one reading of a text are in a reading of its edited text: from ids of `before` to ids of `after`.
 * What is gone is not in it. For pins kept beside a text that is read anew each time.
 * @example slotsKept(chartOf('Fm7 | Bb7'), chartOf('Fm7 | C7 | Bb7')).get('b2.1' as SlotId) // → 'b3.1'
 */
export function slotsKept(before: Chart, after: Chart): ReadonlyMap<SlotId, SlotId> {
  const idsBefore = new Set(barsOf(before).flatMap((bar) => bar.slots.map((slot) => slot.id)));
  const kept = barsOf(keepIds(before, after)).flatMap((bar) => bar.slots);
  const now = barsOf(after).flatMap((bar) => bar.slots);
  return new Map(
    kept.flatMap((slot, index) => (idsBefore.has(slot.id) ? [[slot.id, (now[index] as Slot).id] as const] : [])),
  );
}
