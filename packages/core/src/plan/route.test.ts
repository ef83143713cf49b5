import { describe, expect, it } from 'vitest';
import { distanceMm, keysOf, notesHeld, reachOf } from '../hand/index.ts';
import { formatNoteName, pitchClassOf } from '../theory/index.ts';
import { inventedAnalysis } from './invented-analysis.ts';
import { NO_PLAN_PINS, type Plan } from './plan.ts';
import { choicesOfAnalysis, planRoute, type RouteOptions } from './route.ts';
import { stayCost, travelCost, HIGHEST_KEY, LOWEST_KEY } from './route-cost.ts';
import type { RouteChoice } from './route-choices.ts';

const PLAIN: RouteOptions = { pins: NO_PLAN_PINS, hand: 'medium', level: 1 };
const thumbsOf = (plan: Plan): string[] =>
  plan.slots.map(({ position }) => (position === null ? '-' : formatNoteName(position.thumb)));

/** What a route costs, counted by itself: places, ways between them, stays in a row. */
function costOf(route: readonly RouteChoice[]): number {
  let [cost, stays] = [0, 0];
  for (const [index, here] of route.entries()) {
    const before = route[index - 1];
    cost += here.cost;
    if (before === undefined) continue;
    if (before.thumbMidi === here.thumbMidi && before.position.shape === here.position.shape) cost += stayCost(stays++);
    else {
      cost += travelCost(before.thumbMidi, here.thumbMidi);
      stays = 0;
    }
  }
  return cost;
}

/** The cheapest of all routes, by walking every one of them. */
function cheapestByBruteForce(steps: readonly (readonly RouteChoice[])[]): number {
  let best = Number.POSITIVE_INFINITY;
  const route: RouteChoice[] = [];
  const walk = (index: number): void => {
    const step = steps[index];
    if (step === undefined) {
      best = Math.min(best, costOf(route));
      return;
    }
    for (const choice of step) {
      route.push(choice);
      walk(index + 1);
      route.pop();
    }
  };
  walk(0);
  return best;
}

function costOfPlan(plan: Plan, choices: readonly (readonly RouteChoice[])[]): number {
  return costOf(
    plan.slots.map(({ position, thumbMidi, chordScale }, index) =>
      choices[index]!.find(
        (each) =>
          each.position.shape === position!.shape &&
          each.thumbMidi === thumbMidi &&
          each.chordScale.id === chordScale!.id,
      )!,
    ),
  );
}

describe('the route', () => {
  it.each([
    ['Gm7 | C7 | Fmaj7', 'F major', 1],
    ['Fm7b5 | Bb7alt | Ebm6 | Ebm6', 'Eb minor', 1],
    ['Dm7 G7 | Cmaj7 Am7 | Dm7 | G7sus | Cmaj7', 'C major', 1],
    ['C7 | C7 | C7 | C7 | F7 | F7', 'C major', 1],
    ['Gm7 | C7 | Fmaj7', 'F major', 3],
    ['Dm7 | G7', 'C major', 2],
  ] as const)('of %s in %s at level %i is the cheapest of all routes', (text, key, level) => {
    const analysis = inventedAnalysis(text, key);
    const options = { ...PLAIN, level };
    const choices = choicesOfAnalysis(analysis, options);
    const brute = cheapestByBruteForce(choices);
    expect(costOfPlan(planRoute(analysis, options), choices)).toBe(brute);
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

  it('keeps off the natural 4 over a tonic major chord: it cannot resolve inside the position', () => {
    const plan = planRoute(inventedAnalysis('Fmaj7 | Fmaj7 | Fmaj7 | Fmaj7', 'F major'), PLAIN);
    for (const { position, chordScale } of plan.slots) {
      expect(
        notesHeld(
          position!,
          chordScale!.avoid.map((each) => each.note),
        ),
      ).toEqual([]);
    }
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
    const analysis = inventedAnalysis('Fm7b5 | Bb7(b9) | Ebm6', 'Eb minor');
    const harmonic = analysis.slots[1]!.chordScales.find((each) => each.name === 'Mixolydian b9 b13')!;
    const pins = { ...NO_PLAN_PINS, chordScales: [{ slot: 'b2c1', pass: 1, chordScale: harmonic.id }] };
    const slot = planRoute(analysis, { ...PLAIN, pins }).slots[1]!;
    expect(slot.chordScale).toBe(harmonic);
    expect(slot.family?.complete).toBe(false);
    const held = slot.family!.positions.map((each) => each.notes.map(pitchClassOf));
    expect(held.some((notes) => [2, 8].every((guide) => notes.includes(guide as never)))).toBe(true); // D and A flat
  });

  it('obeys pins and lets the rest follow', () => {
    const analysis = inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major');
    const pins = {
      chordScales: [{ slot: 'b3c1', pass: 1, chordScale: 'lydian@1' }],
      positions: [{ slot: 'b1c1', pass: 1, shape: 'minor-pentatonic', thumbMidi: 74 }],
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
});
