import type { HarmonicEvent } from './event.ts';
import { changeCostAt, functionAt, homeAt, linkCost, opensStatedKey, type CostTables, type Ground } from './ground.ts';
import type { HarmonicFunction } from './harmonic-function.ts';
import { HOME_COUNT, MOST_STEPS, REGION_KEY_COUNT, signaturePlace, type KeyCosts } from './key-costs.ts';

/** Cost of a chord's function in a key, with the ends of the form: a tune begins and ends at home. */
export function stateCost(ground: Ground, index: number, key: number, chosen: HarmonicFunction, home: number): number {
  const { weight } = ground.events[index] as HarmonicEvent;
  return weight * chosen.cost + chosen.debt + (key === homeAt(ground, index, home) ? 0 : awayCost(ground, index));
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
          : changeCostAt(ground, index, before.key, key, home);
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

const PLACES = 12;
/** By key, its place on the circle of fifths. */
const PLACE_OF_KEY: readonly number[] = Array.from({ length: HOME_COUNT }, (_, key) => signaturePlace(key));

/**
 * For each signature, the least cost of coming to a key that has it from any other key (or of leaving it for any other).
 * What a change costs hangs on the two signatures alone, up to three steps apart; so the twelve places, each with its
 * neighbours, stand for all pairs of keys. Coming 'from' the key itself is among them; it never beats staying, which costs
 * no more than nothing.
 */
function acrossPlaces(row: Int32Array, offsets: Int32Array, keys: readonly number[], costs: KeyCosts): Int32Array {
  const exits = new Int32Array(PLACES).fill(IMPOSSIBLE);
  let anywhere = IMPOSSIBLE;
  for (const key of keys) {
    const place = PLACE_OF_KEY[key] as number;
    const end = offsets[key + 1] as number;
    let least = exits[place] as number;
    for (let at = offsets[key] as number; at < end; at++) {
      const cost = row[at] as number;
      if (cost < least) least = cost;
    }
    exits[place] = least;
    if (least < anywhere) anywhere = least;
  }
  const { change, changeStep } = costs;
  const across = new Int32Array(PLACES);
  for (let place = 0; place < PLACES; place++) {
    let least = anywhere + MOST_STEPS * changeStep;
    for (let steps = 1 - MOST_STEPS; steps < MOST_STEPS; steps++) {
      const total = (exits[(place + steps + PLACES) % PLACES] as number) + Math.abs(steps) * changeStep;
      if (total < least) least = total;
    }
    across[place] = least + change;
  }
  return across;
}

/** What being in a key costs at an event, whatever the function there: away from home, at the ends of the form. */
function awayCost({ costs, events, ending }: Ground, index: number): number {
  const atStart = index === 0 ? costs.startAway : 0;
  const atEnd = index === ending ? costs.endAway : 0;
  return (events[index] as HarmonicEvent).weight * costs.away + atStart + atEnd;
}

type Direction = 'forward' | 'backward';

/**
 * Fills one event's row: the least costs of everything up to each state, its own cost in (forward), or from each state to
 * the end, its own cost in (backward). Changing key costs the same both ways, so one rule serves both.
 * @param beside the neighbour's row, null at the first event of the walk
 */
function fillRow(walk: Walk, index: number, beside: Int32Array | null, row: Int32Array): void {
  const { ground, tables, home, keys, direction } = walk;
  const isForward = direction === 'forward';
  const neighbour = isForward ? index - 1 : index + 1;
  const offsets = tables.offsets[index] as Int32Array;
  const own = tables.own[index] as Int32Array;
  const near = tables.offsets[neighbour];
  const across = beside === null || near === undefined ? null : acrossPlaces(beside, near, keys, ground.costs);
  const later = isForward ? index : index + 1;
  const cut = tables.inside[later] ?? 0;
  const links = tables.links[later];
  const away = awayCost(ground, index);
  const here = homeAt(ground, index, home);
  const opened = opensStatedKey(ground, later) ? homeAt(ground, later, home) : -1;
  // into a key that is just stated one goes for nothing: forward from any key here, backward from here to that key there
  const free =
    opened < 0 || beside === null || near === undefined
      ? IMPOSSIBLE
      : leastOf(beside, near, isForward ? keys : [opened]);
  for (const key of keys) {
    const from = offsets[key] as number;
    const count = (offsets[key + 1] as number) - from;
    const added = key === here ? 0 : away;
    const changed = across === null ? 0 : (across[PLACE_OF_KEY[key] as number] as number) + cut;
    const entry = !isForward || key === opened ? Math.min(changed, free) : changed;
    const link = links?.[key];
    const nearFrom = near?.[key] ?? 0;
    const nearCount = (near?.[key + 1] ?? 0) - nearFrom;
    for (let state = 0; state < count; state++) {
      let least = entry;
      if (beside !== null && link !== undefined) {
        for (let other = 0; other < nearCount; other++) {
          const at = isForward ? other * count + state : state * nearCount + other;
          const total = (beside[nearFrom + other] as number) + (link[at] as number);
          if (total < least) least = total;
        }
      }
      row[from + state] = (own[from + state] as number) + added + least;
    }
  }
}

/** One way through the events with one home. */
interface Walk {
  readonly ground: Ground;
  readonly tables: CostTables;
  readonly home: number;
  readonly keys: readonly number[];
  readonly direction: Direction;
}

/** The least of a row's costs in the keys of a search. */
function leastOf(row: Int32Array, offsets: Int32Array, keys: readonly number[]): number {
  let least = IMPOSSIBLE;
  for (const key of keys) {
    for (let at = offsets[key] as number; at < (offsets[key + 1] as number); at++)
      least = Math.min(least, row[at] as number);
  }
  return least;
}

/** The least cost of reading the events with this home, without the reading itself. */
export function leastCost(ground: Ground, tables: CostTables, home: number): number {
  const walk: Walk = { ground, tables, home, keys: keysFor(home), direction: 'forward' };
  const longest = tables.own.reduce((most, each) => Math.max(most, each.length), 0);
  const rows = [new Int32Array(longest), new Int32Array(longest)] as const;
  const count = ground.events.length;
  if (count === 0) return 0;
  for (let index = 0; index < count; index++) {
    fillRow(walk, index, index === 0 ? null : rows[(index + 1) % 2 === 0 ? 0 : 1], rows[index % 2 === 0 ? 0 : 1]);
  }
  return leastOf(rows[(count - 1) % 2 === 0 ? 0 : 1], tables.offsets[count - 1] as Int32Array, walk.keys);
}

/** All rows of a walk, by event. */
function rowsOf(ground: Ground, tables: CostTables, home: number, direction: Direction): Int32Array[] {
  const walk: Walk = { ground, tables, home, keys: keysFor(home), direction };
  const count = ground.events.length;
  const rows = tables.own.map((each) => new Int32Array(each.length));
  for (let step = 0; step < count; step++) {
    const index = direction === 'forward' ? step : count - 1 - step;
    const beside = step === 0 ? null : (rows[direction === 'forward' ? index - 1 : index + 1] as Int32Array);
    fillRow(walk, index, beside, rows[index] as Int32Array);
  }
  return rows;
}

/** The best reading, and for other functions of each event how much the best reading with it would cost more. */
export interface Readings extends Labelling {
  /** By event: keys and functions, with their cost above the best. Exact min-marginals. */
  readonly costAbove: readonly (readonly { readonly key: number; readonly choice: number; readonly above: number }[])[];
}

/**
 * The cheapest reading for a home key: exact, by dynamic programming forward and backward over (key, function)
 * states (Viterbi). Where two cost the same: the home key, then staying in the key before, then the lower key, then the function listed
 * first.
 * @param within keep only functions that cost at most this much more than the best; all by default
 */
export function readEvents(
  ground: Ground,
  tables: CostTables,
  home: number,
  within: number = Number.POSITIVE_INFINITY,
): Readings {
  const { events, costs } = ground;
  const keys = keysFor(home);
  const forward = rowsOf(ground, tables, home, 'forward');
  const backward = rowsOf(ground, tables, home, 'backward');
  const [start] = backward;
  const cost = start === undefined ? 0 : leastOf(start, tables.offsets[0] as Int32Array, keys);
  if (cost >= IMPOSSIBLE) throw new RangeError('ground must leave every event a key and a function');
  const statesOf = (index: number): { key: number; choice: number; at: number }[] => {
    const offsets = tables.offsets[index] as Int32Array;
    return keys.flatMap((key) => {
      const from = offsets[key] as number;
      return Array.from({ length: (offsets[key + 1] as number) - from }, (_, choice) => ({
        key,
        choice,
        at: from + choice,
      }));
    });
  };
  const costAbove = events.map((_, index) => {
    const kept: { key: number; choice: number; above: number }[] = [];
    for (const { key, choice, at } of statesOf(index)) {
      const own =
        (tables.own[index]?.[at] as number) + (key === homeAt(ground, index, home) ? 0 : awayCost(ground, index));
      // its own cost is in both
      const above = (forward[index]?.[at] as number) + (backward[index]?.[at] as number) - own - cost;
      if (above <= within) kept.push({ key, choice, above });
    }
    return kept;
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
    for (const { key, choice, at } of statesOf(index)) {
      const rest = backward[index]?.[at] as number;
      const chosen = functionAt(ground, index, key, choice);
      let reached = spent;
      if (before !== null && beforeKey !== undefined) {
        reached +=
          key === beforeKey ? linkCost(before, chosen, costs) : changeCostAt(ground, index, beforeKey, key, home);
      }
      if (reached + rest !== cost) continue;
      const rank = key === homeAt(ground, index, home) ? 0 : key === beforeKey ? 1 : 2;
      const reachedHere = reached + stateCost(ground, index, key, chosen, home);
      if (best === null || rank < best.rank) best = { key, choice, rank, spent: reachedHere };
    }
    if (best === null) throw new RangeError('some state must add up to the least cost');
    chosenKeys.push(best.key);
    chosenChoices.push(best.choice);
    spent = best.spent;
  }
  return { cost, keys: chosenKeys, choices: chosenChoices, costAbove };
}
