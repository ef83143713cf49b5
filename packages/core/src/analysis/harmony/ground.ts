import { finalGoal, impliedGoal } from './final-goal.ts';
import { isTonicMinor, surroundingsOf, varies, type HarmonicEvent } from './event.ts';
import { ALONE } from './applied.ts';
import { isVamp } from './vamp.ts';
import { functionsIn } from './functions-in-key.ts';
import type { HarmonicFunction } from './harmonic-function.ts';
import { changeCost, HOME_COUNT, KEY_COSTS, modeOfKeyIndex, REGION_KEY_COUNT, type KeyCosts } from './key-costs.ts';

/** Everything a search needs, made once for a chart: for each event and key, what the chord may do there. */
export interface Ground {
  readonly events: readonly HarmonicEvent[];
  /** By event, then by key (0 to 35). Empty where a teacher's pins rule the key out. */
  readonly functions: readonly (readonly (readonly HarmonicFunction[])[])[];
  /** The event that sounds as the first full bar begins: what a pickup leads to. */
  readonly opening: number;
  /** The first event that still sounds in the last two bars. */
  readonly closing: number;
  /** The event the form ends on: the last, or the last before an interlude written after it. */
  readonly ending: number;
  /** The root of the last goal a dominant comes home to, null where there is none. */
  readonly goal: number | null;
  /** Where there is none: the root of the goal that is asked for and does not come, null where none is. */
  readonly impliedGoal: number | null;
  /** Whether the form goes round without a cadence, so that only its first chord can be home. */
  readonly isVamp: boolean;
  /** By event, the key (0 to 23) the chart states there, -1 where the home key is in force. */
  readonly stated: readonly number[];
  readonly costs: KeyCosts;
}

/** The key that counts as home at an event: the one the chart states there, else the home key. */
export function homeAt(ground: Ground, index: number, home: number): number {
  const stated = ground.stated[index] ?? -1;
  return stated < 0 || stated === home % REGION_KEY_COUNT ? home : stated;
}

/** Whether a key the chart states comes into force at an event: going to it is then no surprise. */
export function opensStatedKey(ground: Ground, index: number): boolean {
  return index > 0 && ground.stated[index] !== ground.stated[index - 1];
}

/** Cost of a change of key just before an event. */
export function changeCostAt(ground: Ground, index: number, from: number, to: number, home: number): number {
  if (opensStatedKey(ground, index) && to === homeAt(ground, index, home)) return 0;
  return changeCost(from, to, ground.costs) + insideCost(ground.events, index, ground.costs);
}

/** A ground's costs that no home key changes, laid out flat for the search's inner loops. */
export interface CostTables {
  /** By event: where each key's functions begin in `own`, with the end of the last. */
  readonly offsets: readonly Int32Array[];
  /** By event: cost of each function, key after key. */
  readonly own: readonly Int32Array[];
  /** Cost of each pair of functions in one key, by the later event and key; index earlier × (later's count) + later. */
  readonly links: readonly (readonly Int32Array[])[];
  /** By event, what a change of key just before it costs more. */
  readonly inside: Int32Array;
}

function closingOf(events: readonly HarmonicEvent[], ending: number): number {
  const last = events[ending];
  if (last === undefined) return 0;
  const from = last.endTicks - 2 * last.barTicks;
  return events.findIndex((event) => event.endTicks > from);
}

/**
 * The stated keys, each from the dominant (and the ii before it) on that leads to its I across the line: a key line stands
 * where the I does, and its cadence begins before. Common practice.
 */
function withPreparation(events: readonly HarmonicEvent[], stated: readonly number[]): number[] {
  const early = [...stated];
  const leads = (index: number, classes: string): boolean => {
    const [from, to] = [events[index], events[index + 1]];
    return (
      from !== undefined &&
      to !== undefined &&
      classes.includes(from.chordClass) &&
      (to.root - from.root + 12) % 12 === 5
    );
  };
  for (const [index, key] of stated.entries()) {
    const isNew = index > 0 && key >= 0 && key !== stated[index - 1];
    if (!isNew || events[index]?.root !== key % 12 || !leads(index - 1, 'Ds+')) continue;
    early[index - 1] = key;
    if (leads(index - 2, 'mh')) early[index - 2] = key;
  }
  return early;
}

/**
 * The ground for a chart's events, before any pin.
 * @param statedAt the key (0 to 23) the chart states at a slot, -1 for none
 * @param endSlot the slot after the last of the form, where an interlude follows it
 */
export function groundOf(
  events: readonly HarmonicEvent[],
  statedAt: (slot: number) => number = () => -1,
  costs: KeyCosts = KEY_COSTS,
  endSlot: number = Number.POSITIVE_INFINITY,
): Ground {
  const around = surroundingsOf(events);
  // what a chord may do depends on a small shape only: most of a long chart is found here again
  const known = new Map<string, readonly HarmonicFunction[]>();
  const functions = events.map((event, index) => {
    const surroundings = around[index];
    if (surroundings === undefined) throw new RangeError('every event has surroundings');
    const { next, afterNext, previous, toNext, toAfterNext, toPrevious, toNextBass } = surroundings;
    const shape = [
      event.chordClass + next.chordClass + afterNext.chordClass + previous.chordClass,
      toNext,
      toAfterNext,
      toPrevious,
      toNextBass,
      isTonicMinor(event),
      event.weight === 4,
      event.sounding.suffix === next.sounding.suffix && event.sounding.suffix === previous.sounding.suffix,
    ].join();
    return Array.from({ length: HOME_COUNT }, (_, key) => {
      const place = (event.root - (key % 12) + 12) % 12;
      const identity = `${modeOfKeyIndex(key)},${place},${shape}`;
      let entry = known.get(identity);
      if (entry === undefined) {
        entry = functionsIn(modeOfKeyIndex(key), place, event, surroundings);
        known.set(identity, entry);
      }
      return entry;
    });
  });
  const stated = withPreparation(
    events,
    events.map(({ slots }) => statedAt(slots[0] ?? 0)),
  );
  const opening = Math.max(
    0,
    events.findIndex((event) => event.endTicks > 0),
  );
  const last = events.findLastIndex(({ slots }) => (slots[0] ?? 0) < endSlot);
  const ending = last < 0 ? events.length - 1 : last;
  const goal = finalGoal(events, ending);
  const goesRound = isVamp(events);
  return {
    events,
    functions,
    opening,
    closing: closingOf(events, ending),
    ending,
    goal,
    impliedGoal: goal === null && !goesRound ? impliedGoal(events) : null,
    isVamp: goesRound,
    stated,
    costs,
  };
}

/** What two neighbours in one key give back: dominant to I, predominant to dominant, an applied ii to its own dominant. */
export function linkCost(from: HarmonicFunction, to: HarmonicFunction, costs: KeyCosts): number {
  if (from.role === 'applied predominant') {
    const answers = to.target === from.target && to.role !== 'applied predominant' && to.role !== 'predominant';
    return answers ? -ALONE : 0;
  }
  if (from.target !== 0) return 0;
  if (from.role === 'predominant') {
    return to.role === 'dominant' || to.role === 'substitute dominant' ? -costs.preparation : 0;
  }
  return to.isHome && from.role !== 'backdoor predominant' ? -costs.cadence : 0;
}

/** What a change of key before an event costs more because it would cut a cadence in two: ii from V, dominant from goal. */
export function insideCost(events: readonly HarmonicEvent[], index: number, costs: KeyCosts): number {
  const [before, here] = [events[index - 1], events[index]];
  if (before === undefined || here === undefined) return 0;
  const up = (here.root - before.root + 12) % 12;
  const isTwo = before.chordClass === 'm' || before.chordClass === 'h';
  const isDominant = before.chordClass === 'D' || before.chordClass === 's' || before.chordClass === '+';
  const cuts = isTwo
    ? here.chordClass === 'D' && (up === 5 || up === 11)
    : isDominant && up === 5 && here.chordClass !== 'D';
  return cuts || varies(before, here) ? costs.changeInside : 0;
}

/** The tables of a ground. */
export function costTablesOf({ events, functions, costs }: Ground): CostTables {
  const offsets = functions.map((byKey) => {
    const starts = new Int32Array(HOME_COUNT + 1);
    for (let key = 0; key < HOME_COUNT; key++) starts[key + 1] = (starts[key] as number) + (byKey[key]?.length ?? 0);
    return starts;
  });
  const own = events.map(({ weight }, index) =>
    Int32Array.from((functions[index] ?? []).flat(), ({ cost, debt }) => weight * cost + debt),
  );
  // charts repeat themselves, and functions of a shape are shared: so are the tables of two neighbours
  const known = new Map<readonly HarmonicFunction[], Map<readonly HarmonicFunction[], Int32Array>>();
  const linksBetween = (before: readonly HarmonicFunction[], here: readonly HarmonicFunction[]): Int32Array => {
    let after = known.get(before);
    if (after === undefined) known.set(before, (after = new Map()));
    let table = after.get(here);
    if (table === undefined) {
      table = Int32Array.from(before.flatMap((from) => here.map((to) => linkCost(from, to, costs))));
      after.set(here, table);
    }
    return table;
  };
  const links = functions.map((byKey, index) =>
    index === 0 ? [] : byKey.map((choices, key) => linksBetween(functions[index - 1]?.[key] ?? [], choices)),
  );
  const inside = Int32Array.from(events, (_, index) => insideCost(events, index, costs));
  return { offsets, own, links, inside };
}

/** A function of an event in a key. */
export function functionAt(ground: Ground, index: number, key: number, choice: number): HarmonicFunction {
  const found = ground.functions[index]?.[key]?.[choice];
  if (found === undefined) throw new RangeError(`choice must be one of the functions of event ${index}, not ${choice}`);
  return found;
}
