import { describe, expect, it } from 'vitest';
import { distanceMm, keysOf, reachOf } from '../hand/index.ts';
import { formatNoteName, pitchClassOf } from '../theory/index.ts';
import type { Analysis } from '../analysis/index.ts';
import { inventedAnalysis } from './invented-analysis.ts';
import { NO_PLAN_PINS, type Plan } from './plan.ts';
import { choicesOfAnalysis, findRoute, planRoute, type RouteOptions } from './route.ts';
import { FURTHEST_WISH, levelWishes, outsideCurve, ownCurve } from './outside-curve.ts';
import { planPinIssues } from './pin-issues.ts';
import { countLeftHanging, HIGHEST_KEY, LOWEST_KEY, outsidePoints, ROUTE_COST } from './route-cost.ts';
import { nextChords, type RouteChoice } from './route-choices.ts';

const PLAIN: RouteOptions = { pins: NO_PLAN_PINS, hand: 'medium', level: 1 };
const thumbsOf = (plan: Plan): string[] =>
  plan.slots.map(({ position }) => (position === null ? '-' : formatNoteName(position.thumb)));

const slotId = (analysis: Analysis, index: number): string => analysis.slots[index]!.played.slot.id;

/** The cheapest of all routes, by walking every one of them and counting as ROUTE_COST says. */
function cheapestByBruteForce(steps: readonly (readonly RouteChoice[])[]): { cost: number; routes: number } {
  let [best, routes] = [Number.POSITIVE_INFINITY, 0];
  const walk = (index: number, before: RouteChoice | null, stays: number, cost: number): void => {
    const step = steps[index];
    if (step === undefined) {
      routes++;
      best = Math.min(best, cost);
      return;
    }
    for (const here of step) {
      const isStay = before?.thumbMidi === here.thumbMidi && before.position.shape === here.position.shape;
      const way = before === null ? 0 : distanceMm(before.thumbMidi, here.thumbMidi) * 10;
      const repeated = isStay ? (ROUTE_COST.stay[Math.min(stays, 3)] as number) : 0;
      walk(index + 1, here, isStay ? stays + 1 : 0, cost + here.cost + way + repeated);
    }
  };
  walk(0, null, 0, 0);
  return { cost: best, routes };
}

describe('the route', () => {
  it.each([
    ['Gm7 | C7 | Fmaj7', 'F major', 1],
    ['Fm7b5 | Bb7alt | Ebm6 | Ebm6', 'Eb minor', 1],
    ['Fm7b5 Bb7 | Ebm6 Abm7 | Cb7 Bb7 | Ebm6 Ebm6', 'Eb minor', 1],
    ['Dm7 G7 | Cmaj7 Am7 | Dm7 G7sus | Cmaj7 Cmaj7', 'C major', 1],
    ['C7 C7 | C7 C7 | F7 F7 | C7 G7', 'C major', 1],
    ['Bbm7 Eb7 | Abmaj7 Fm7 | Bdim7 Cm7 | Bbm7 Eb7', 'Ab major', 1],
    ['Gm7 | C7 | Fmaj7', 'F major', 3],
    ['Dm7 G7 | Em7 A7 | Dm7', 'C major', 2],
  ] as const)('of %s in %s at level %i is the cheapest of all routes', (text, key, level) => {
    const analysis = inventedAnalysis(text, key);
    const options = { ...PLAIN, level };
    const brute = cheapestByBruteForce(choicesOfAnalysis(analysis, options));
    expect(brute.routes).toBeGreaterThan(4);
    expect(findRoute(analysis, options, 'chord').cost).toBe(brute.cost);
  });

  it('at every half bar is the cheapest of all routes', () => {
    const analysis = inventedAnalysis('Gm7 | C7 Fmaj7 | Fmaj7', 'F major');
    const [ii, v, i, last] = choicesOfAnalysis(analysis, PLAIN);
    const { steps, cost } = findRoute(analysis, PLAIN, 'half bar');
    expect(steps.map((each) => each.startTicks)).toEqual([0, 1920, 3840, 5760, 7680, 9600]);
    expect(cost).toBe(cheapestByBruteForce([ii!, ii!, v!, i!, last!, last!]).cost);
  });

  it('keeps one chord-scale over one chord, however often the hand moves', () => {
    const analysis = inventedAnalysis('Dm7 | G7 | Cmaj7 | Cmaj7 | Dm7 | G7 | Cmaj7', 'C major');
    const { steps } = findRoute(analysis, { ...PLAIN, level: 3 }, 'half bar');
    for (const step of steps) {
      const first = steps.find((each) => each.slotIndex === step.slotIndex);
      expect(step.chordScale).toBe(first?.chordScale);
    }
  });

  it('gives every slot the first rung and a position of its family, in the register', () => {
    const analysis = inventedAnalysis('Gm7 C7 | Fmaj7 Dm7 | Gm7 | C7sus C7 | F#dim7 | Em7b5 A7alt | Dm6', 'F major');
    const plan = planRoute(analysis, PLAIN);
    let travelled = 0;
    for (const [index, slot] of plan.slots.entries()) {
      expect(slot.chordScale).toBe(slot.analysed.chordScales[0]);
      expect(slot.family?.positions).toContain(slot.position);
      const keys = keysOf(slot.position!, slot.thumbMidi!);
      expect(keys[0]).toBeGreaterThanOrEqual(LOWEST_KEY);
      expect(keys[4]).toBeLessThanOrEqual(HIGHEST_KEY);
      const before = plan.slots[index - 1]?.thumbMidi;
      expect(slot.travelMm).toBe(before === undefined ? 0 : distanceMm(before!, slot.thumbMidi!));
      travelled += slot.travelMm;
    }
    expect(plan.totalTravelMm).toBe(travelled);
  });

  it('keeps off the natural 4 over a tonic major chord, though the hand then stays or moves', () => {
    const plan = planRoute(inventedAnalysis('Fmaj7 | Fmaj7 | Fmaj7 | Fmaj7', 'F major'), PLAIN);
    for (const { position } of plan.slots) expect(position!.notes.map(formatNoteName)).not.toContain('Bb');
  });

  it('counts an avoid note as left hanging where no resolution is at hand and the next chord takes it not in', () => {
    const analysis = inventedAnalysis('Fmaj7 | Gm7 | C7', 'F major');
    const [ionian] = analysis.slots[0]!.chordScales;
    const [onG] = planRoute(inventedAnalysis('Gm7', 'F major'), PLAIN).slots[0]!.family!.positions;
    const nexts = nextChords(analysis.slots);
    const toTheThird = {
      ...ionian!,
      avoid: ionian!.avoid.map((each) => ({ ...each, resolvesTo: [each.resolvesTo[0]!] })),
    };
    // G Bb C D F: the Bb has no A; its other way, to C, is there
    expect(countLeftHanging(onG!, toTheThird, nexts[1]!)).toBe(0); // C7 takes it in
    expect(countLeftHanging(onG!, toTheThird, nexts[2]!)).toBe(1); // nothing after it
    expect(countLeftHanging(onG!, ionian!, nexts[2]!)).toBe(0);
    expect(countLeftHanging(onG!, { ...toTheThird, inside: false }, nexts[2]!)).toBe(0);
  });

  it('offers the whole family of the substitute', () => {
    const analysis = inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major');
    const pins = {
      ...NO_PLAN_PINS,
      chordScales: [{ slot: slotId(analysis, 1), pass: 1, chordScale: 'mixolydian@b5' }],
    };
    const choices = choicesOfAnalysis(analysis, { ...PLAIN, pins })[1]!;
    // E flat, not D sharp: that hand holds the chord's seventh, which keeps its letter (docs/spelling.md, a)
    expect(new Set(choices.map(({ position }) => formatNoteName(position.thumb)))).toEqual(new Set(['C#', 'G#', 'Eb']));
  });

  it('does not stay for ever', () => {
    const plan = planRoute(inventedAnalysis(Array.from({ length: 12 }, () => 'Dm7').join('|'), 'C major'), PLAIN);
    expect(new Set(thumbsOf(plan)).size).toBeGreaterThan(1);
  });

  it('rests over N.C. and counts the travel across it', () => {
    const plan = planRoute(inventedAnalysis('Gm7 | N.C. | Cm7', 'F major'), PLAIN);
    expect(plan.slots[1]).toMatchObject({
      chordScale: null,
      family: null,
      position: null,
      thumbMidi: null,
      travelMm: 0,
    });
    expect(plan.slots[2]!.travelMm).toBe(distanceMm(plan.slots[0]!.thumbMidi!, plan.slots[2]!.thumbMidi!));
  });

  it('says so where no five-note shape covers the chord-scale, and still holds the guide tones', () => {
    const analysis = inventedAnalysis('Fm7b5 | Bb7 | Ebm6', 'Eb minor');
    const harmonic = analysis.slots[1]!.chordScales.find((each) => each.name === 'Mixolydian b9 b13')!;
    const pins = { ...NO_PLAN_PINS, chordScales: [{ slot: slotId(analysis, 1), pass: 1, chordScale: harmonic.id }] };
    const slot = planRoute(analysis, { ...PLAIN, pins }).slots[1]!;
    expect(slot.chordScale).toBe(harmonic);
    expect(slot.family?.complete).toBe(false);
    const held = slot.family!.positions.map((each) => each.notes.map(pitchClassOf));
    expect(held.some((notes) => [2, 8].every((guide) => notes.includes(guide as never)))).toBe(true); // D and A flat
  });

  it('obeys pins and lets the rest follow', () => {
    const analysis = inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major');
    const pins = {
      ...NO_PLAN_PINS,
      chordScales: [{ slot: slotId(analysis, 2), pass: 1, chordScale: 'lydian@1' }],
      positions: [{ slot: slotId(analysis, 0), pass: 1, shape: 'minor-pentatonic', thumbMidi: 74 }],
    };
    const plan = planRoute(analysis, { ...PLAIN, pins });
    expect(plan.slots[0]!.thumbMidi).toBe(74);
    expect(formatNoteName(plan.slots[0]!.position!.thumb)).toBe('D');
    expect(plan.slots[2]!.chordScale?.name).toBe('Lydian');
    expect(plan.slots[2]!.family?.positions.map((each) => formatNoteName(each.thumb))).toEqual(['D', 'A', 'E']);
    expect(plan.slots[1]!.chordScale?.name).toBe('Mixolydian');
  });

  it('gives a narrow hand other positions, all within its reach', () => {
    const analysis = inventedAnalysis('Gm7 | C7 | Fmaj7 | Bbm7 | Eb7 | Abmaj7', 'F major');
    const narrow = { spanMm: 150 };
    const plan = planRoute(analysis, { ...PLAIN, hand: narrow });
    for (const { position } of plan.slots) {
      expect(reachOf(position!.shape, pitchClassOf(position!.thumb), narrow).verdict).not.toBe('out of reach');
    }
    const usual = planRoute(analysis, PLAIN);
    expect(plan.slots.map(({ position }) => position!.shape.id)).not.toEqual(
      usual.slots.map(({ position }) => position!.shape.id),
    );
  });

  it.each([120, 130, 140, 150])('leaves no step out of reach of a hand of %i mm where a shape serves', (spanMm) => {
    const hand = { spanMm };
    const analysis = inventedAnalysis(
      'Gm7 | C7 | Fmaj7 | Bm7b5 | E7alt | Am6 | Bbm7 | Eb7 | Abmaj7 | F#dim7',
      'F major',
    );
    for (const { position } of planRoute(analysis, { ...PLAIN, hand }).slots) {
      expect(reachOf(position!.shape, pitchClassOf(position!.thumb), hand).verdict).not.toBe('out of reach');
    }
  });

  it('says what is wrong with pins, and leaves the others in', () => {
    const analysis = inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major');
    const [ii, v] = [slotId(analysis, 0), slotId(analysis, 1)];
    const pins = {
      chordScales: [
        { slot: 'gone', pass: 1, chordScale: 'dorian@1' },
        { slot: ii, pass: 1, chordScale: 'nothing@1' },
        { slot: v, pass: 1, chordScale: 'altered@1' },
      ],
      positions: [
        { slot: ii, pass: 1, shape: 'no shape', thumbMidi: 60 },
        { slot: v, pass: 1, shape: 'minor-six-pentatonic', thumbMidi: 300 },
      ],
      secondScales: [{ slot: v, pass: 1, chordScale: 'nowhere@1' }],
    };
    expect(planPinIssues(analysis, pins, 'medium').map((each) => each.code)).toEqual([
      'plan.pin-lost',
      'plan.pin-chord-scale',
      'plan.pin-chord-scale',
      'plan.pin-shape',
      'plan.pin-thumb',
    ]);
    const plan = planRoute(analysis, { ...PLAIN, pins });
    expect(plan.slots.map(({ chordScale }) => chordScale!.name)).toEqual(['Dorian', 'altered', 'Ionian']);
    const far = { ...NO_PLAN_PINS, positions: [{ slot: ii, pass: 1, shape: 'minor-pentatonic', thumbMidi: 67 }] };
    expect(planPinIssues(analysis, far, 'medium')).toEqual([]);
    expect(planPinIssues(analysis, far, { spanMm: 130 }).map((each) => each.code)).toEqual(['plan.pin-reach']);
  });
});

describe('the curve of outsideness', () => {
  const analysis = inventedAnalysis('Dm7 | G7 | Cmaj7 | Am7 | Dm7 | G7 | Cmaj7 | Cmaj7', 'C major');

  it('is flat at level 1', () => {
    expect(outsideCurve(analysis, 1)).toEqual([0, 0, 0, 0, 0, 0, 0, 0]);
  });

  it.each([2, 3] as const)('rises to the last dominant and is inside after it, at level %i', (level) => {
    const curve = outsideCurve(analysis, level);
    expect(curve[5]).toBe(Math.max(...curve));
    expect(curve[1]).toBeLessThan(curve[5]!);
    expect(curve.slice(6)).toEqual([0, 0]);
    const points = findRoute(analysis, { ...PLAIN, level }, 'chord').steps.map((each) =>
      outsidePoints(each.chordScale),
    );
    expect(points[5]).toBe(Math.max(...points));
    expect(points[0]).toBe(0);
    expect(points.slice(6)).toEqual([0, 0]);
  });

  it('names the nearest chord-scale that holds the hand over an altered dominant', () => {
    const altered = inventedAnalysis(
      'Am7b5 | D7alt | Gm6 | % | Cm7 | F7alt | Bbmaj7 | Eb7alt | Am7b5 | D7alt | Gm6',
      'G minor',
    );
    for (const level of [2, 3, 4] as const) {
      const choices = choicesOfAnalysis(altered, { ...PLAIN, level });
      const over = choices.flatMap((each, index) =>
        altered.slots[index]!.chordScales[0]?.name === 'altered' ? each : [],
      );
      expect(new Set(over.map(({ chordScale }) => chordScale.id)).size).toBeGreaterThan(1);
      for (const { chordScale, position } of over) {
        const ladder = altered.slots.find(({ chordScales }) => chordScales.includes(chordScale))!.chordScales;
        expect(ladder.find(({ set }) => (position.set & ~set) === 0)).toBe(chordScale);
      }
    }
  });

  it("of one's own is followed", () => {
    const options = { ...PLAIN, curve: [0, 5, 1, 0, 0, 0, 0, 0] };
    const { steps } = findRoute(analysis, options, 'chord');
    expect(outsidePoints(steps[1]!.chordScale)).toBeGreaterThanOrEqual(4);
    expect(steps[1]!.chordScale.inside).toBe(false);
    expect(steps[2]).toMatchObject({ chordScale: { name: 'Lydian', move: 'up a fifth' } });
    // eight bars in four stretches of two; dominants take all of the wish (2, 5 points), what leads to them none, others a third
    expect(ownCurve(analysis, [0, 1, 2, 0])).toEqual([0, 0, 0, 0, 0, 5, 0, 0]);
    expect(ownCurve(analysis, [3])).toEqual([0, 11, 3, 3, 0, 11, 3, 3]);
    expect(() => ownCurve(analysis, [4])).toThrow(RangeError);
    expect(levelWishes(analysis, 1, 4)).toEqual([0, 0, 0, 0]);
    const furthest = levelWishes(analysis, 3, 8);
    expect(furthest).toHaveLength(8);
    expect(Math.max(...furthest)).toBe(FURTHEST_WISH);
    expect(() => findRoute(analysis, { ...PLAIN, curve: [0] }, 'chord')).toThrow(RangeError);
  });
});
