import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../random.ts';
import { noteName, parseKey, type Key } from '../theory/index.ts';
import { approachesTo } from './approach-note.ts';
import { cheapestBass, motionCost, openChoices, type BassStepChoice, type BassStep } from './bass-line.ts';
import type { WalkingTone } from './walking-tones.ts';

const KEY = parseKey('C major') as Key;
const SCALE = ['C', 'D', 'E', 'F', 'G', 'A', 'B'].map(noteName);

const anyTone: fc.Arbitrary<WalkingTone> = fc.record({
  name: fc.constantFrom(...SCALE, noteName('F#'), noteName('Bb')),
  function: fc.constantFrom('root', 'third', 'fifth', 'scale'),
  cost: fc.nat(8),
  leaving: fc.constantFrom('free', 'free', 'by step', 'on up', 'on down'),
});

/** A beat: a few free tones, or the way into a goal. */
const anyStep: fc.Arbitrary<Omit<BassStep, 'startTicks'>> = fc
  .tuple(fc.array(anyTone, { minLength: 1, maxLength: 3 }), fc.boolean(), fc.boolean(), fc.integer({ min: 0, max: 9 }))
  .map(([tones, walks, turnsBack, kind]) => ({
    slotIndex: 0,
    durationTicks: 960,
    tones: kind === 0 ? [] : tones,
    approaches: kind === 0 ? approachesTo(noteName('G'), KEY, SCALE).slice(0, 3) : [],
    turnsBack,
    walks,
  }));

/** The cost of the cheapest of all lines, by walking every one of them; null where no line keeps the rules. */
function cheapestByBruteForce(steps: readonly BassStep[], seed: number): number | null {
  const random = randomSource(seed, 'bass');
  const layers = steps.map((step) => openChoices(step, random));
  let best: number | null = null;
  const go = (index: number, last: BassStepChoice | null, cost: number): void => {
    const layer = layers[index];
    if (layer === undefined) {
      if (last?.leaving === 'free' && (best === null || cost < best)) best = cost;
      return;
    }
    for (const choice of layer) {
      const motion =
        last === null ? 0 : motionCost(last, choice.midi, steps[index] as BassStep, choice.approach !== null);
      if (motion !== null) go(index + 1, { ...choice, before: last }, cost + motion + choice.cost);
    }
  };
  go(0, null, 0);
  return best;
}

describe('cheapestBass', () => {
  it('costs what the cheapest of all lines costs', () => {
    let found = 0;
    fc.assert(
      fc.property(fc.array(anyStep, { minLength: 1, maxLength: 5 }), fc.nat(1000), (drawn, seed) => {
        const steps = drawn.map((step, index): BassStep => ({ ...step, startTicks: index * 960 }));
        const line = cheapestBass(steps, randomSource(seed, 'bass'));
        const cheapest = cheapestByBruteForce(steps, seed);
        if (cheapest === null) expect(line).toEqual([]);
        else {
          found++;
          expect(line).toHaveLength(steps.length);
          expect(line.at(-1)?.cost).toBe(cheapest);
        }
      }),
      { seed: 20_261_125, numRuns: 200 },
    );
    expect(found).toBeGreaterThan(50);
  });
});
