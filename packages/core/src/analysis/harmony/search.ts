import type { HarmonicEvent } from './event.ts';
import { functionAt, type Ground } from './ground.ts';
import { ALONE, type HarmonicFunction } from './harmonic-function.ts';
import { changeCost, REGION_KEY_COUNT, type KeyCosts } from './key-costs.ts';

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

/** Cost of a chord's function in a key, with the ends of the form: a tune begins and ends at home. */
export function stateCost(ground: Ground, index: number, key: number, chosen: HarmonicFunction, home: number): number {
  const { costs, events } = ground;
  const { weight } = events[index] as HarmonicEvent;
  const own = weight * chosen.cost + chosen.debt;
  if (key === home) return own;
  const atStart = index === 0 ? costs.startAway : 0;
  const atEnd = index === events.length - 1 ? costs.endAway : 0;
  return own + weight * costs.away + atStart + atEnd;
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
      total += changeCost(before.key, key, ground.costs);
      if (before.key === key) total += linkCost(before.chosen, chosen, ground.costs);
    }
    before = { key, chosen };
  }
  return total;
}

/** The 24 keys a search with this home may use: a blues stands in the place of its major key. */
export function keysFor(home: number): readonly number[] {
  return Array.from({ length: REGION_KEY_COUNT }, (_, key) => (key === home - REGION_KEY_COUNT ? home : key));
}

/** Cost of each change of key, by from × 24 + to. */
function changeTable(costs: KeyCosts): Int32Array {
  const table = new Int32Array(REGION_KEY_COUNT * REGION_KEY_COUNT);
  for (let from = 0; from < REGION_KEY_COUNT; from++) {
    for (let to = 0; to < REGION_KEY_COUNT; to++) table[from * REGION_KEY_COUNT + to] = changeCost(from, to, costs);
  }
  return table;
}

/** More than any labelling costs, and far from the end of the integers. */
const IMPOSSIBLE = 1_000_000_000;

type Row = readonly (readonly number[])[];

/** The cheapest entry of each key. */
function cheapest(row: Row): Int32Array {
  return Int32Array.from(row, (states) => states.reduce((least, each) => Math.min(least, each), IMPOSSIBLE));
}

/** For each key, the least cost of coming to it from another (or of leaving it for another). */
function acrossKeys(exits: Int32Array, table: Int32Array): Int32Array {
  const across = new Int32Array(REGION_KEY_COUNT).fill(IMPOSSIBLE);
  for (let to = 0; to < REGION_KEY_COUNT; to++) {
    let least = IMPOSSIBLE;
    for (let from = 0; from < REGION_KEY_COUNT; from++) {
      if (from === to) continue;
      const total = (exits[from] as number) + (table[from * REGION_KEY_COUNT + to] as number);
      if (total < least) least = total;
    }
    across[to] = least;
  }
  return across;
}

/**
 * For each event, key and function, the least cost of everything up to it ('forward', its own cost in) or of everything
 * after it ('backward', its own cost not in). Changing key costs the same both ways, so one table serves both.
 */
function leastCosts(ground: Ground, home: number, direction: 'forward' | 'backward', keepAll: boolean): Row[] {
  const { events, functions, costs } = ground;
  const keys = keysFor(home);
  const table = changeTable(costs);
  const rows: Row[] = [];
  const count = events.length;
  /** The neighbour's costs as seen from here: backward, with the neighbour's own cost in. */
  let seen: Row | null = null;
  for (let step = 0; step < count; step++) {
    const index = direction === 'forward' ? step : count - 1 - step;
    const neighbour = direction === 'forward' ? index - 1 : index + 1;
    const across: Int32Array | null = seen === null ? null : acrossKeys(cheapest(seen), table);
    const row: number[][] = [];
    const withOwn: number[][] = [];
    for (let column = 0; column < REGION_KEY_COUNT; column++) {
      const key = keys[column] as number;
      const choices = functions[index]?.[key] ?? [];
      const others = functions[neighbour]?.[key] ?? [];
      const states: number[] = [];
      const own: number[] = [];
      for (const chosen of choices) {
        let least = 0;
        if (across !== null && seen !== null) {
          least = across[column] as number;
          const beside = seen[column] as readonly number[];
          for (let each = 0; each < others.length; each++) {
            const other = others[each] as HarmonicFunction;
            const link = direction === 'forward' ? linkCost(other, chosen, costs) : linkCost(chosen, other, costs);
            const total = (beside[each] as number) + link;
            if (total < least) least = total;
          }
        }
        const cost = stateCost(ground, index, key, chosen, home);
        states.push(direction === 'forward' ? least + cost : least);
        own.push(least + cost);
      }
      row.push(states);
      withOwn.push(own);
    }
    seen = withOwn;
    if (keepAll || step === count - 1) rows.push(row);
  }
  return direction === 'forward' ? rows : rows.reverse();
}

/** The least cost of reading the events with this home, without the reading itself. */
export function leastCost(ground: Ground, home: number): number {
  const last = leastCosts(ground, home, 'forward', false).at(-1);
  return last === undefined ? 0 : cheapest(last).reduce((least, each) => Math.min(least, each), IMPOSSIBLE);
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
export function readEvents(ground: Ground, home: number): Readings {
  const { events, costs } = ground;
  const keys = keysFor(home);
  const forward = leastCosts(ground, home, 'forward', true);
  const backward = leastCosts(ground, home, 'backward', true);
  const cost = leastCost(ground, home);
  const chosenKeys: number[] = [];
  const chosenChoices: number[] = [];
  let spent = 0;
  const costAbove = events.map((_, index) => {
    const all: { key: number; choice: number; above: number }[] = [];
    for (const [column, key] of keys.entries()) {
      for (const [choice, before] of (forward[index]?.[column] ?? []).entries()) {
        all.push({ key, choice, above: before + (backward[index]?.[column]?.[choice] as number) - cost });
      }
    }
    return all;
  });
  // the best reading is walked forward, each step to a state from which the rest still adds up to the least cost
  for (const index of events.keys()) {
    const beforeKey = chosenKeys.at(-1);
    const before =
      beforeKey === undefined ? null : functionAt(ground, index - 1, beforeKey, chosenChoices.at(-1) as number);
    let best: { key: number; choice: number; rank: number; spent: number } | null = null;
    for (const [column, key] of keys.entries()) {
      for (const [choice, rest] of (backward[index]?.[column] ?? []).entries()) {
        const chosen = functionAt(ground, index, key, choice);
        let reached = spent + stateCost(ground, index, key, chosen, home);
        if (before !== null && beforeKey !== undefined) {
          reached += key === beforeKey ? linkCost(before, chosen, costs) : changeCost(beforeKey, key, costs);
        }
        if (reached + rest !== cost) continue;
        const rank = key === home ? 0 : key === beforeKey ? 1 : 2;
        if (best === null || rank < best.rank) best = { key, choice, rank, spent: reached };
      }
    }
    if (best === null) throw new RangeError('the pins leave no reading');
    chosenKeys.push(best.key);
    chosenChoices.push(best.choice);
    ({ spent } = best);
  }
  return { cost, keys: chosenKeys, choices: chosenChoices, costAbove };
}
