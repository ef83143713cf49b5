import { describe, expect, it } from 'vitest';
import type { Plan } from '../../plan/index.ts';
import { randomSource } from '../../random.ts';
import { midi } from '../../theory/index.ts';
import { planOf, withMinorPentatonic } from '../invented-plan.ts';
import { candidatesOf, type Candidate, type LineGround } from './candidate.ts';
import { contourOf } from './contour.ts';
import {
  costToFollow,
  endingCost,
  intervalsAsOne,
  mayEnd,
  mayStandAlone,
  startingCost,
  type PhraseBefore,
  type Reached,
} from './following.ts';
import { keyPlacesOf } from './key-place.ts';
import { cheapestLine } from './phrase-line.ts';
import type { Onset } from './phrase-plan.ts';

/** Six notes across a change: the fourth may anticipate, silence follows the fifth. */
const ONSETS: readonly Onset[] = [2400, 2880, 3360, 3840, 4320, 5280].map((startTicks, index) => ({
  startTicks,
  durationTicks: 480,
  move: [null, null, 1, -1, null, null][index] ?? null,
  neighbour: index === 1,
  motive: null,
}));

/** The cost of the cheapest of all lines, by walking every one of them; null where no line keeps the rules. */
function cheapestByBruteForce(ground: LineGround, layers: readonly Candidate[][], before: PhraseBefore): number | null {
  let best: number | null = null;
  const go = (index: number, last: Reached | null): void => {
    const layer = layers[index];
    if (layer === undefined) {
      const cost = last === null ? 0 : last.cost + endingCost(last, before.isAnswer);
      if (best === null || cost < best) best = cost;
      return;
    }
    for (const candidate of layer.filter(mayStandAlone)) {
      if (index === layers.length - 1 && !mayEnd(ground.plan, candidate)) continue;
      const cost = last === null ? startingCost(candidate, before) : costToFollow(ground, last, candidate);
      if (cost !== null) go(index + 1, { candidate, cost: (last?.cost ?? 0) + cost, before: last });
    }
  };
  go(0, null);
  return best;
}

/** What a line costs, note by note. */
function costOf(ground: LineGround, line: readonly Candidate[], before: PhraseBefore): number {
  const reached = line.reduce<Reached | null>((last, candidate, index) => {
    const cost = last === null ? startingCost(candidate, before) : costToFollow(ground, last, candidate);
    if (cost === null) throw new RangeError(`line must keep the rules, and note ${index} does not`);
    return { candidate, cost: (last?.cost ?? 0) + cost, before: last };
  }, null);
  return reached === null ? 0 : reached.cost + endingCost(reached, before.isAnswer);
}

/** A scale step, a third, a step: heard before. */
const HEARD = new Set([intervalsAsOne(2, 3, 2), intervalsAsOne(-2, -3, -2)]);

describe('cheapestLine', () => {
  const changes = 'key: F major\nA:\n| F7 | Bb7 |\n';
  const plans: Readonly<Record<string, Plan>> = {
    'the route': planOf('key: F major\nA:\n| Gm7 | C7 |\n'),
    'a position with an avoid note': withMinorPentatonic(planOf(changes), 'G', 67),
    'a position mostly outside': withMinorPentatonic(planOf(changes), 'B', 71),
  };

  it.each(Object.entries(plans))('costs what the cheapest of all lines costs: %s', (_, plan) => {
    const ground: LineGround = { plan, places: keyPlacesOf(plan), level: 3, growth: 0, heard: HEARD };
    let found = 0;
    for (let seed = 0; seed < 12; seed++) {
      const random = randomSource(seed, 'chorus');
      const heights = contourOf(ONSETS.length, random);
      const layers = ONSETS.map((onset, index) =>
        candidatesOf(ground, onset, ONSETS[index + 1], heights[index] as number, random),
      );
      const before: PhraseBefore = {
        lastMidi: seed % 2 === 0 ? null : midi(60),
        isAnswer: seed % 3 === 0,
        sung: [],
      };
      const { line } = cheapestLine(ground, layers, before);
      const cheapest = cheapestByBruteForce(ground, layers, before);
      if (line === null) expect(cheapest).toBeNull();
      else {
        found++;
        expect(costOf(ground, line, before)).toBe(cheapest);
      }
    }
    expect(found).toBeGreaterThan(0);
  });
});
