import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS, type Analysis } from '../analysis/index.ts';
import { readChart, transposeChart, type Chart } from '../chart/index.ts';
import type { HandSize } from '../hand/index.ts';
import { formatKey, pitchClassOf, usualKeys, type Key } from '../theory/index.ts';
import { NO_PLAN_PINS } from './plan.ts';
import { findRoute, planRoute } from './route.ts';
import { searchShapes } from './shape-search.ts';
import { shapeDemands } from './shape-demand.ts';

/** Changes of our own: cadences in major and minor, a dominant nothing covers, a diminished passing chord, a substitute. */
const CHANGES = 'Cmaj7 C#dim7 | Dm7 Db7 | Em7b5 A7 | Dm7 G7 | Dm7b5 G7alt | Cm6 F7 | Fm7 Bb7 | C6';

function chartOf(bars: string): Chart {
  const chart = readChart(`key: C major\n| ${bars} |\n`);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return chart.value;
}

const inKey = (key: Key): Analysis => analyse(transposeChart(chartOf(CHANGES), key), NO_ANALYSIS_PINS);

describe('twelve keys', () => {
  const home = inKey(usualKeys('major')[0]!);
  const HANDS: readonly HandSize[] = ['medium', { spanMm: 150 }];

  it.each(usualKeys('major').map((key) => [formatKey(key), key] as const))('%s has the same families', (_, key) => {
    const analysis = inKey(key);
    const up = pitchClassOf(key.tonic);
    for (const hand of HANDS) {
      const options = { pins: NO_PLAN_PINS, hand, level: 1 } as const;
      const here = planRoute(analysis, options).slots;
      for (const [index, slot] of planRoute(home, options).slots.entries()) {
        expect(here[index]!.chordScale!.id).toBe(slot.chordScale!.id);
        expect(here[index]!.family!.shape).toBe(slot.family!.shape);
        const moved = slot.family!.positions.map((each) => (pitchClassOf(each.thumb) + up) % 12);
        expect(here[index]!.family!.positions.map((each) => pitchClassOf(each.thumb))).toEqual(moved);
      }
      const search = { hand, keys: 'all', limit: 3 } as const;
      const shapesIn = (given: Analysis): unknown =>
        searchShapes(shapeDemands(given), search).answers.map(({ shapes, positions, staying, kindness }) => [
          shapes.map((each) => each.shape.id),
          positions,
          staying,
          kindness,
        ]);
      expect(shapesIn(analysis)).toEqual(shapesIn(home));
    }
  });
});

describe('the searches grow with the chart', () => {
  const times = (count: number): Analysis =>
    analyse(chartOf(Array.from({ length: count }, () => CHANGES).join(' | ')), NO_ANALYSIS_PINS);

  it('linearly: twice the bars, twice the ways looked at', () => {
    const ways = [4, 8, 16].map(
      (count) => findRoute(times(count), { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }, 'half bar').searched,
    );
    expect(ways[1]! / ways[0]!).toBeLessThan(2.1);
    expect(ways[2]! / ways[1]!).toBeLessThan(2.1);
  });

  it('not at all where the same chord-scales come back', () => {
    const countsOf = (count: number): unknown =>
      searchShapes(shapeDemands(times(count)), { hand: 'medium', keys: 'all', limit: 3 }).searched.sizes;
    expect(countsOf(4)).toEqual(countsOf(2));
  });
});
