import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readChart, unfold } from '../../chart/index.ts';
import { eventsOf } from './event.ts';
import { costTablesOf, functionAt, groundOf, type Ground } from './ground.ts';
import { homeCost, rankHomes } from './home-key.ts';
import { HOME_COUNT } from './key-costs.ts';
import { costOf, keysFor, leastCost, readEvents } from './search.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
const SUFFIXES = ['', 'maj7', '6', 'm7', 'm6', '7', '7(b9)', 'm7b5', 'dim7', '+', '7sus'];

/** A chart of random chords, some of them neighbours of a cadence, one a bar. */
const chords = (most: number): fc.Arbitrary<string[]> =>
  fc.array(
    fc.tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...SUFFIXES)).map((parts) => parts.join('')),
    { minLength: 1, maxLength: most },
  );

/** @param stated a key the chart states from its third bar on, -1 for none */
function groundFrom(symbols: readonly string[], stated = -1): Ground {
  const chart = readChart(`| ${symbols.join(' | ')} |`);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return groundOf(eventsOf(unfold(chart.value), new Set([2])), (slot) => (slot >= 2 ? stated : -1));
}

/** Leaves only some keys, so that all readings can be written out. */
function onlyKeys(ground: Ground, allowed: readonly number[]): Ground {
  return {
    ...ground,
    functions: ground.functions.map((byKey) => byKey.map((each, key) => (allowed.includes(key) ? each : []))),
  };
}

/** Every reading there is, one after the other, and the least cost among them: no cleverness at all. */
function exhaustive(ground: Ground, home: number): { cost: number; withState: Map<string, number> } {
  const keys = keysFor(home);
  const states = ground.events.map((_, index) =>
    keys.flatMap((key) => (ground.functions[index]?.[key] ?? []).map((_, choice) => ({ key, choice }))),
  );
  let cost = Number.POSITIVE_INFINITY;
  const withState = new Map<string, number>();
  const walk = (chosen: { key: number; choice: number }[]): void => {
    if (chosen.length === states.length) {
      const total = costOf(ground, home, {
        keys: chosen.map((each) => each.key),
        choices: chosen.map((each) => each.choice),
      });
      cost = Math.min(cost, total);
      for (const [index, { key, choice }] of chosen.entries()) {
        const name = `${index},${key},${choice}`;
        withState.set(name, Math.min(withState.get(name) ?? Number.POSITIVE_INFINITY, total));
      }
      return;
    }
    for (const state of states[chosen.length] ?? []) walk([...chosen, state]);
  };
  walk([]);
  return { cost, withState };
}

const home = fc.integer({ min: 0, max: HOME_COUNT - 1 });

describe('the search against exhaustive search', () => {
  test('up to three chords, all keys: the same least cost', () => {
    fc.assert(
      fc.property(chords(3), home, (symbols, at) => {
        const ground = groundFrom(symbols);
        expect(leastCost(ground, costTablesOf(ground), at)).toBe(exhaustive(ground, at).cost);
      }),
      { seed: 3, numRuns: 12 },
    );
  });

  test('up to seven chords, three keys: least cost, the reading that has it, and what every other function would cost more', () => {
    const three = fc.uniqueArray(fc.integer({ min: 0, max: 23 }), { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(
        chords(7),
        three,
        fc.nat({ max: 2 }),
        fc.boolean(),
        fc.boolean(),
        (symbols, keys, which, asBlues, states) => {
          const key = keys[which] as number;
          const at = asBlues && key < 12 ? key + 24 : key;
          const ground = onlyKeys(groundFrom(symbols, states ? (keys[0] as number) : -1), [...keys, at]);
          const readings = readEvents(ground, costTablesOf(ground), at);
          const { cost, withState } = exhaustive(ground, at);
          expect(readings.cost).toBe(cost);
          expect(costOf(ground, at, readings)).toBe(cost);
          for (const [index, others] of readings.costAbove.entries()) {
            for (const { key: each, choice, above } of others) {
              expect(cost + above).toBe(withState.get(`${index},${each},${choice}`));
            }
          }
        },
      ),
      { seed: 4, numRuns: 40 },
    );
  });

  test('the home key is the cheapest of all 36, each read exhaustively', () => {
    fc.assert(
      fc.property(chords(2), (symbols) => {
        const ground = groundFrom(symbols);
        const totals = Array.from(
          { length: HOME_COUNT },
          (_, each) => exhaustive(ground, each).cost + homeCost(ground, each),
        );
        expect(rankHomes(ground, costTablesOf(ground))[0]).toEqual({
          home: totals.indexOf(Math.min(...totals)),
          cost: Math.min(...totals),
        });
      }),
      { seed: 5, numRuns: 10 },
    );
  });
});

test('where two readings cost the same, the home key wins', () => {
  const ground = groundFrom(['Cmaj7', 'Cmaj7']);
  const { keys, choices } = readEvents(ground, costTablesOf(ground), 0);
  expect(keys).toEqual([0]);
  expect(functionAt(ground, 0, 0, choices[0] as number).role).toBe('tonic');
});

test('a pickup is no beginning: the chord of the first full bar is', () => {
  const chart = readChart('pickup: 1\n\n| G7 | Cmaj7 | Dm7 G7 | C6 |');
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  expect(groundOf(eventsOf(unfold(chart.value))).opening).toBe(1);
  expect(groundFrom(['G7', 'Cmaj7']).opening).toBe(0);
});
