import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { midi, type Midi } from '../../theory/index.ts';
import type { Finger } from '../position.ts';
import { fingersFor, type Strike } from './event-cost.ts';
import { bestFingerings, rateFingering, type FingeringOptions, type FingerPin } from './fingering.ts';
import { FINGERING_MODEL_IDS, FINGERING_RULES, fingeringModel } from './model.ts';

const SEED = { seed: 20261, numRuns: 60 };

const single = fc.integer({ min: 55, max: 79 }).map((key): Strike => [midi(key)]);
const chord = fc
  .uniqueArray(fc.integer({ min: 57, max: 72 }), { minLength: 1, maxLength: 3 })
  .map((keys): Strike => keys.sort((a, b) => a - b).map(midi));
const right = { side: 'right', model: fingeringModel('parncutt') } as const;
const sideAndModel = fc.record({
  side: fc.constantFrom('right', 'left'),
  model: fc.constantFrom(...FINGERING_MODEL_IDS).map((id) => fingeringModel(id)),
});

/** Every way to finger a line, rated one by one; best first as the search orders them. */
function exhaustive(line: readonly Strike[], options: FingeringOptions) {
  let ways: (readonly Finger[])[][] = [[]];
  for (const strike of line) {
    ways = ways.flatMap((way) => fingersFor(strike, options.side).map((fingers) => [...way, fingers]));
  }
  const isAsked = (way: readonly (readonly Finger[])[]): boolean =>
    (options.pins ?? []).every(
      (pin) => way[pin.strike]?.[(line[pin.strike] as Strike).indexOf(pin.key)] === pin.finger,
    );
  return ways
    .filter(isAsked)
    .map((way) => rateFingering(line, way, options))
    .sort(
      (a, b) =>
        a.beyondPractical - b.beyondPractical ||
        a.points - b.points ||
        (a.fingers.flat().join('') < b.fingers.flat().join('') ? -1 : 1),
    );
}

function searched(line: readonly Strike[], options: FingeringOptions) {
  const result = bestFingerings(line, options);
  if (!result.ok) throw new Error('the line must be playable');
  return result.value;
}

describe('the best fingering', () => {
  it('of a melody is the exhaustive one, first to last of the k best', () => {
    fc.assert(
      fc.property(fc.array(single, { minLength: 1, maxLength: 5 }), sideAndModel, (line, options) => {
        expect(searched(line, { ...options, count: 12 })).toEqual(exhaustive(line, options).slice(0, 12));
      }),
      SEED,
    );
  });

  it('of chords of two and three notes is the exhaustive one', () => {
    fc.assert(
      fc.property(fc.array(chord, { minLength: 1, maxLength: 3 }), sideAndModel, (line, options) => {
        expect(searched(line, { ...options, count: 7 })).toEqual(exhaustive(line, options).slice(0, 7));
      }),
      SEED,
    );
  });

  it('keeps to fixed fingers, even where no hand would choose them', () => {
    fc.assert(
      fc.property(
        fc.array(single, { minLength: 3, maxLength: 5 }),
        sideAndModel,
        fc.array(fc.tuple(fc.nat(2), fc.constantFrom<Finger>(1, 2, 3, 4, 5)), { minLength: 1, maxLength: 2 }),
        (line, options, asked) => {
          const pins = [...new Map(asked)].map(([strike, finger]): FingerPin => ({
            strike,
            key: line[strike]?.[0] as Midi,
            finger,
          }));
          expect(searched(line, { ...options, pins })).toEqual(exhaustive(line, { ...options, pins }).slice(0, 1));
        },
      ),
      SEED,
    );
  });

  it('is free after a rest, and still the exhaustive one', () => {
    fc.assert(
      fc.property(
        fc.array(single, { minLength: 2, maxLength: 5 }),
        sideAndModel,
        fc.uniqueArray(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 2 }),
        (line, options, restsBefore) => {
          const rested = { ...options, restsBefore };
          expect(searched(line, { ...rested, count: 3 })).toEqual(exhaustive(line, rested).slice(0, 3));
        },
      ),
      SEED,
    );
    const apart = [48, 50, 84, 86].map((key): Strike => [midi(key)]);
    const [fingering] = searched(apart, { ...right, restsBefore: [2] });
    const halves = [apart.slice(0, 2), apart.slice(2)].map((half) => searched(half, right)[0]);
    expect(fingering?.beyondPractical).toBe(0);
    expect(fingering?.fingers).toEqual(halves.flatMap((half) => half?.fingers));
  });

  // D is the keyboard's axis: the left hand mirrored about it lies as the right hand does
  it('of one hand is that of the other on the mirrored keyboard', () => {
    fc.assert(
      fc.property(fc.array(single, { minLength: 1, maxLength: 12 }), sideAndModel, (line, { model }) => {
        const mirrored = line.map(([key]): Strike => [midi(124 - (key as Midi))]);
        const [right] = searched(line, { side: 'right', model });
        expect(searched(mirrored, { side: 'left', model })).toEqual([right]);
      }),
      SEED,
    );
  });

  it('transposed by octaves stays the same', () => {
    fc.assert(
      fc.property(fc.array(single, { minLength: 1, maxLength: 12 }), sideAndModel, (line, options) => {
        const higher = line.map((strike): Strike => strike.map((key) => midi(key + 12)));
        expect(searched(higher, options)).toEqual(searched(line, options));
      }),
      SEED,
    );
  });

  it('has a cost that is the sum of its rules', () => {
    fc.assert(
      fc.property(fc.array(chord, { minLength: 1, maxLength: 6 }), sideAndModel, (line, options) => {
        const [fingering] = searched(line, options);
        const sum = FINGERING_RULES.reduce((all, rule) => all + (fingering?.pointsByRule[rule] ?? 0), 0);
        expect(fingering?.points).toBe(sum);
      }),
      SEED,
    );
  });

  it('repeats a key with the finger it had', () => {
    const line = [60, 60, 60, 62].map((key): Strike => [midi(key)]);
    const [fingering] = searched(line, right);
    expect(new Set(fingering?.fingers.slice(0, 3).flat()).size).toBe(1);
    expect(fingering?.beyondPractical).toBe(0);
  });

  it('passes the thumb under in a scale that five fingers cannot hold', () => {
    const line = [60, 62, 64, 65, 67, 69, 71, 72].map((key): Strike => [midi(key)]);
    const [fingering] = searched(line, right);
    const fingers = fingering?.fingers.flat() ?? [];
    expect(fingers.slice(1).some((finger, index) => finger === 1 && fingers[index] !== 1)).toBe(true);
    expect(fingering?.pointsByRule['thumb passing']).toBeGreaterThan(0);
  });

  it('leaps only where it must', () => {
    const line = [48, 50, 84, 86].map((key): Strike => [midi(key)]);
    expect(searched(line, right)[0]?.beyondPractical).toBe(1);
  });

  it('of nothing is nothing, of one note the strongest finger', () => {
    expect(searched([], right)).toMatchObject([{ fingers: [], points: 0, beyondPractical: 0 }]);
    expect(searched([[midi(61)]], right)[0]?.fingers).toEqual([[2]]);
  });

  it('says what is wrong with six keys at once, and with fixed fingers that cross', () => {
    const six = [60, 62, 64, 65, 67, 69].map(midi);
    expect(bestFingerings([[midi(60)], six], right)).toEqual({
      ok: false,
      issues: [{ code: 'fingering.too-many-keys', args: { strike: 2, keys: 6 }, place: {} }],
    });
    const pins: FingerPin[] = [
      { strike: 0, key: midi(60), finger: 3 },
      { strike: 0, key: midi(64), finger: 2 },
    ];
    expect(bestFingerings([[midi(60), midi(64)]], { ...right, pins })).toMatchObject({
      ok: false,
      issues: [{ code: 'fingering.pins-cross' }],
    });
  });

  it("refuses a programmer's slips", () => {
    expect(() => bestFingerings([[midi(60)]], { ...right, count: 0 })).toThrow(RangeError);
    expect(() => bestFingerings([[midi(60)]], { ...right, pins: [{ strike: 0, key: midi(61), finger: 1 }] })).toThrow(
      RangeError,
    );
    expect(() => rateFingering([[midi(60)]], [], right)).toThrow(RangeError);
    expect(() => bestFingerings([[midi(64), midi(60)]], right)).toThrow(RangeError);
  });
});

describe('the hands of Balliauw 2017', () => {
  it('find other fingerings', () => {
    const line = [60, 64, 67, 72, 76].map((key): Strike => [midi(key)]);
    const points = (['small', 'medium', 'large'] as const).map(
      (hand) => searched(line, { side: 'right', model: fingeringModel('balliauw', hand) })[0]?.points,
    );
    expect(new Set(points).size).toBeGreaterThan(1);
  });
});
