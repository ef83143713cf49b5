import type { HarmonicEvent } from './event.ts';
import { functionAt, insideCost, linkCost, type CostTables, type Ground } from './ground.ts';
import type { HarmonicFunction } from './harmonic-function.ts';
import { changeCost, REGION_KEY_COUNT } from './key-costs.ts';

/** Cost of a chord's function in a key, with the ends of the form: a tune begins and ends at home. */
export function stateCost(ground: Ground, index: number, key: number, chosen: HarmonicFunction, home: number): number {
  const { weight } = ground.events[index] as HarmonicEvent;
  return weight * chosen.cost + chosen.debt + (key === home ? 0 : awayCost(ground, index));
}

/** One reading of all events: a key and one of its functions for each. */
export interface Labelling {
  readonly cost: number;
  readonly keys: readonly number[];
  /** Index into the functions of that event and key. */
  readonly choices: readonly number[];
}

/** The cost of a labelling, summed plainly: what the search makes smallest. */
export function costOf(ground: Ground, home: number, labelling: Pick<Labelling, 'keys' | 'choices'>): number {
  let total = 0;
  let before: { key: number; chosen: HarmonicFunction } | null = null;
  for (const [index, key] of labelling.keys.entries()) {
    const chosen = functionAt(ground, index, key, labelling.choices[index] as number);
    total += stateCost(ground, index, key, chosen, home);
    if (before !== null) {
      total +=
        before.key === key
          ? linkCost(before.chosen, chosen, ground.costs)
          : changeCost(before.key, key, ground.costs) + insideCost(ground.events, index, ground.costs);
    }
    before = { key, chosen };
  }
  return total;
}

/** The 24 keys a search with this home may use: a blues stands in the place of its major key. */
export function keysFor(home: number): readonly number[] {
  return Array.from({ length: REGION_KEY_COUNT }, (_, key) => (key === home - REGION_KEY_COUNT ? home : key));
}

/** More than any labelling costs, and far from the end of the integers. */
const IMPOSSIBLE = 1_000_000_000;

/** By key (24), then by function. */
type Row = readonly Int32Array[];

/** For each key, the least cost of coming to it from another (or of leaving it for another). */
function acrossKeys(row: Row, changes: Int32Array): Int32Array {
  const exits = new Int32Array(REGION_KEY_COUNT);
  const across = new Int32Array(REGION_KEY_COUNT);
  for (let key = 0; key < REGION_KEY_COUNT; key++) {
    let least = IMPOSSIBLE;
    for (const each of row[key] as Int32Array) if (each < least) least = each;
    exits[key] = least;
  }
  for (let to = 0; to < REGION_KEY_COUNT; to++) {
    let least = IMPOSSIBLE;
    for (let from = 0; from < REGION_KEY_COUNT; from++) {
      const total = (exits[from] as number) + (changes[from * REGION_KEY_COUNT + to] as number);
      if (total < least && from !== to) least = total;
    }
    across[to] = least;
  }
  return across;
}

/** What being in a key costs at an event, whatever the function there: away from home, at the ends of the form. */
function awayCost({ costs, events }: Ground, index: number): number {
  const atStart = index === 0 ? costs.startAway : 0;
  const atEnd = index === events.length - 1 ? costs.endAway : 0;
  return (events[index] as HarmonicEvent).weight * costs.away + atStart + atEnd;
}

/**
 * Least costs of everything up to each state, its own cost in (forward), or from each state to the end, its own cost in
 * (backward). Changing key costs the same both ways, so one table serves both. Yields the rows in the order they are made.
 */
function* leastCosts(
  ground: Ground,
  tables: CostTables,
  home: number,
  direction: 'forward' | 'backward',
): Generator<Row> {
  const { own, links, changes, inside } = tables;
  const keys = keysFor(home);
  const count = ground.events.length;
  let beside: Row | null = null;
  for (let step = 0; step < count; step++) {
    const index = direction === 'forward' ? step : count - 1 - step;
    const across: Int32Array | null = beside === null ? null : acrossKeys(beside, changes);
    const away = awayCost(ground, index);
    const cut = inside[direction === 'forward' ? index : index + 1] ?? 0;
    const row: Int32Array[] = [];
    for (let column = 0; column < REGION_KEY_COUNT; column++) {
      const key = keys[column] as number;
      const states = Int32Array.from((own[index] as readonly Int32Array[])[key] as Int32Array);
      const others: Int32Array | null = beside === null ? null : (beside[column] as Int32Array);
      const link = (direction === 'forward' ? links[index] : links[index + 1])?.[key];
      const added = key === home ? 0 : away;
      for (let here = 0; here < states.length; here++) {
        let least = across === null ? 0 : (across[column] as number) + cut;
        if (others !== null && link !== undefined) {
          for (let other = 0; other < others.length; other++) {
            const at = direction === 'forward' ? other * states.length + here : here * others.length + other;
            const total = (others[other] as number) + (link[at] as number);
            if (total < least) least = total;
          }
        }
        states[here] = (states[here] as number) + added + least;
      }
      row.push(states);
    }
    beside = row;
    yield row;
  }
}

/** The least cost of reading the events with this home, without the reading itself. */
export function leastCost(ground: Ground, tables: CostTables, home: number): number {
  let last: Row | null = null;
  for (const row of leastCosts(ground, tables, home, 'forward')) last = row;
  if (last === null) return 0;
  return last.reduce((least, states) => Math.min(least, ...states), IMPOSSIBLE);
}

/** The best reading, and for every other function of every event how much the best reading with it would cost more. */
export interface Readings extends Labelling {
  /** By event: every key and function, with its cost above the best. Exact min-marginals. */
  readonly costAbove: readonly (readonly { readonly key: number; readonly choice: number; readonly above: number }[])[];
}

/**
 * The cheapest reading for a home key: exact, by dynamic programming forward and backward over (key, function)
 * states (Viterbi). Where two cost the same: the home key, then staying in the key before, then the lower key, then the function listed
 * first.
 */
export function readEvents(ground: Ground, tables: CostTables, home: number): Readings {
  const { events, costs } = ground;
  const keys = keysFor(home);
  const forward = [...leastCosts(ground, tables, home, 'forward')];
  const backward = [...leastCosts(ground, tables, home, 'backward')].reverse();
  const [start] = backward;
  const cost = start === undefined ? 0 : start.reduce((least, states) => Math.min(least, ...states), IMPOSSIBLE);
  if (cost >= IMPOSSIBLE) throw new RangeError('ground must leave every event a key and a function');
  const costAbove = events.map((_, index) => {
    const all: { key: number; choice: number; above: number }[] = [];
    for (const [column, key] of keys.entries()) {
      for (const [choice, before] of (forward[index]?.[column] ?? new Int32Array()).entries()) {
        const chosen = functionAt(ground, index, key, choice);
        const after = backward[index]?.[column]?.[choice] as number;
        // its own cost is in both
        all.push({ key, choice, above: before + after - stateCost(ground, index, key, chosen, home) - cost });
      }
    }
    return all;
  });
  const chosenKeys: number[] = [];
  const chosenChoices: number[] = [];
  let spent = 0;
  // the best reading is walked forward, each step to a state from which the rest still adds up to the least cost
  for (const index of events.keys()) {
    const beforeKey = chosenKeys.at(-1);
    const before =
      beforeKey === undefined ? null : functionAt(ground, index - 1, beforeKey, chosenChoices.at(-1) as number);
    let best: { key: number; choice: number; rank: number; spent: number } | null = null;
    for (const [column, key] of keys.entries()) {
      for (const [choice, rest] of (backward[index]?.[column] ?? new Int32Array()).entries()) {
        const chosen = functionAt(ground, index, key, choice);
        let reached = spent;
        if (before !== null && beforeKey !== undefined) {
          reached +=
            key === beforeKey
              ? linkCost(before, chosen, costs)
              : changeCost(beforeKey, key, costs) + insideCost(events, index, costs);
        }
        if (reached + rest !== cost) continue;
        const rank = key === home ? 0 : key === beforeKey ? 1 : 2;
        const reachedHere = reached + stateCost(ground, index, key, chosen, home);
        if (best === null || rank < best.rank) best = { key, choice, rank, spent: reachedHere };
      }
    }
    if (best === null) throw new RangeError('some state must add up to the least cost');
    chosenKeys.push(best.key);
    chosenChoices.push(best.choice);
    spent = best.spent;
  }
  return { cost, keys: chosenKeys, choices: chosenChoices, costAbove };
}
