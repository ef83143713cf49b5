import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cheapestPath, type PathChoice, type PathCosts } from './shortest-path.ts';

interface Spot extends PathChoice {
  readonly at: number;
}

const STAYING = [0, 2, 5];
const COSTS: PathCosts<Spot> = {
  between: (from, to) => Math.abs(from.at - to.at),
  staying: (stays) => STAYING[Math.min(stays, 2)] as number,
  staysTold: 3,
};

function costOf(path: readonly Spot[]): number {
  let [cost, stays] = [0, 0];
  for (const [index, spot] of path.entries()) {
    const before = path[index - 1];
    cost += spot.cost + (before === undefined ? 0 : COSTS.between(before, spot));
    if (before?.place === spot.place) cost += COSTS.staying(stays++);
    else stays = 0;
  }
  return cost;
}

const allPaths = (steps: readonly (readonly Spot[])[]): Spot[][] =>
  steps.reduce<Spot[][]>((paths, step) => paths.flatMap((path) => step.map((spot) => [...path, spot])), [[]]);

describe('the cheapest path', () => {
  it('costs what the cheapest of all paths costs', () => {
    const spot = fc
      .record({ at: fc.integer({ min: 0, max: 3 }), cost: fc.integer({ min: 0, max: 4 }) })
      .map(({ at, cost }): Spot => ({ at, cost, place: String(at) }));
    const steps = fc.array(fc.array(spot, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(steps, (given) => {
        const { choices, cost } = cheapestPath(given, COSTS);
        const path = choices.map((choice, index) => given[index]![choice]!);
        expect(costOf(path)).toBe(cost);
        expect(cost).toBe(Math.min(...allPaths(given).map(costOf)));
      }),
      { seed: 4, numRuns: 300 },
    );
  });

  it('is empty without steps, and refuses a step without a choice and ways that are all forbidden', () => {
    expect(cheapestPath([], COSTS)).toEqual({ choices: [], cost: 0, searched: 0 });
    const spot: Spot = { at: 0, cost: 0, place: '0' };
    expect(() => cheapestPath([[spot], []], COSTS)).toThrow(RangeError);
    const forbidden = { ...COSTS, between: () => Number.POSITIVE_INFINITY };
    expect(() => cheapestPath([[spot], [spot]], forbidden)).toThrow(RangeError);
  });
});
