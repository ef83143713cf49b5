import fc from 'fast-check';
import type { Meter } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { beamsOf } from './beam.ts';
import { metricalGrid } from './metrical-grid.ts';
import { NOTE_TYPES, segmentsOf, tripletBeatsOf, writtenPlace, type Segment } from './notated-value.ts';

const SEED = 20261125;
const four: Meter = { count: 4, unit: 4 };
const FOUR = metricalGrid({ count: 4, unit: 4 });

const METERS: readonly Meter[] = [four, { count: 3, unit: 4 }, { count: 5, unit: 4 }, { count: 7, unit: 4 }].concat([
  { count: 6, unit: 8 },
  { count: 9, unit: 8 },
  { count: 12, unit: 8 },
  { count: 7, unit: 8 },
  { count: 2, unit: 2 },
]);

const text = (segments: readonly Segment[]): string =>
  segments.map((each) => each.type + '.'.repeat(each.dots) + (each.isTriplet ? '3' : '')).join(' ');
const noteIn = (meter: Meter, start: number, end: number): string =>
  text(segmentsOf(metricalGrid(meter), start, end, 'note', []));
const restIn = (meter: Meter, start: number, end: number): string =>
  text(segmentsOf(metricalGrid(meter), start, end, 'rest', []));

// common practice: what a copyist writes
describe('notes show the metre', () => {
  test.each([
    ['a whole bar', four, 0, 3840, 'whole'],
    ['a quarter over the middle is two eighths tied', four, 1440, 2400, 'eighth eighth'],
    ['a dotted quarter on two is split at the middle', four, 960, 2400, 'quarter eighth'],
    ['a dotted quarter on one stays', four, 0, 1440, 'quarter.'],
    ['quarter half quarter is read at sight', four, 960, 2880, 'half'],
    ['eighth quarter eighth is read at sight', four, 480, 1440, 'quarter'],
    ['a half and an eighth', four, 0, 2400, 'half eighth'],
    ['an anticipation of two beats and a half', four, 1440, 3840, 'eighth half'],
    ['a full bar of three', { count: 3, unit: 4 }, 0, 2880, 'half.'],
    ['five is three and two', { count: 5, unit: 4 }, 0, 4800, 'half. half'],
    ['seven is four and three', { count: 7, unit: 4 }, 0, 6720, 'whole half.'],
    ['six eighths are one dotted half', { count: 6, unit: 8 }, 0, 2880, 'half.'],
    ['a quarter over the compound beat is split', { count: 6, unit: 8 }, 960, 1920, 'eighth eighth'],
    ['long and short in a compound beat', { count: 6, unit: 8 }, 0, 960, 'quarter'],
    ['twelve eighths are one dotted whole', { count: 12, unit: 8 }, 0, 5760, 'whole.'],
  ] as const)('%s', (_name, meter, start, end, written) => expect(noteIn(meter, start, end)).toBe(written));

  test.each([
    ['no rest hides the middle', four, 960, 2880, 'quarter quarter'],
    ['an off-beat rest comes up to the beat', four, 480, 1920, 'eighth quarter'],
    ['half a bar', four, 1920, 3840, 'half'],
    ['a compound beat', { count: 6, unit: 8 }, 0, 1440, 'quarter.'],
    ['two beats of three', { count: 3, unit: 4 }, 960, 2880, 'quarter quarter'],
  ] as const)('rests: %s', (_name, meter, start, end, written) => expect(restIn(meter, start, end)).toBe(written));
});

test('triplets are found by their places and written three in the time of two', () => {
  const places = [0, 320, 640, 960, 1440];
  expect(tripletBeatsOf(FOUR, places)).toEqual([0]);
  expect(text(segmentsOf(FOUR, 320, 960, 'note', [0]))).toBe('quarter3');
  expect(text(segmentsOf(FOUR, 640, 1440, 'note', [0]))).toBe('eighth3 eighth');
});

test('what is finer than can be written goes to the nearest place that can', () => {
  expect([0, 20, 45, 320, 80].map((each) => writtenPlace(each, []))).toEqual([0, 0, 60, 300, 60]);
  expect([0, 20, 45, 320, 80].map((each) => writtenPlace(each, [0]))).toEqual([0, 40, 40, 320, 80]);
});

test('law: any rhythm of twelfths, eighths and sixteenths of a beat fills its bar', () => {
  const place = fc.constantFrom(...METERS).chain((meter) => {
    const grid = metricalGrid(meter);
    const parts = fc.constantFrom(2, 3, 4, 6, 8, 12, 5, 7);
    const ticks = fc.tuple(fc.nat({ max: 11 }), parts, fc.nat({ max: 11 }));
    const toTicks = ([beat, part, of]: [number, number, number]): number =>
      Math.round(((beat * grid.beatTicks) % grid.barTicks) + (grid.beatTicks * (of % part)) / part);
    return fc.tuple(fc.constant(grid), fc.uniqueArray(ticks.map(toTicks), { maxLength: 12 }));
  });
  fc.assert(
    fc.property(place, ([grid, ticks]) => {
      const edges = [0, ...ticks.filter((each) => each > 0 && each < grid.barTicks), grid.barTicks].sort(
        (a, b) => a - b,
      );
      const triplets = tripletBeatsOf(grid, edges);
      let at = 0;
      for (const [index, edge] of edges.slice(0, -1).entries()) {
        const from = writtenPlace(edge, triplets);
        const to = writtenPlace(edges[index + 1] ?? 0, triplets);
        if (from >= to) continue;
        for (const segment of segmentsOf(grid, from, to, index % 2 === 0 ? 'note' : 'rest', triplets)) {
          expect(segment.startTicks).toBe(at);
          at = segment.endTicks;
        }
      }
      expect(at).toBe(grid.barTicks);
    }),
    { seed: SEED, numRuns: 1000 },
  );
});

test('what has no written value is refused by name', () => {
  expect(() => segmentsOf(FOUR, 0, 7, 'note', [])).toThrow(RangeError);
});

test('law: the pieces of any stretch join to the stretch, and each lasts what it says', () => {
  const stretch = fc.constantFrom(...METERS).chain((meter) => {
    const grid = metricalGrid(meter);
    const place = fc.integer({ min: 0, max: grid.barTicks / 60 }).map((each) => each * 60);
    return fc.tuple(fc.constant(grid), place, place, fc.constantFrom('note' as const, 'rest' as const));
  });
  fc.assert(
    fc.property(stretch, ([grid, a, b, kind]) => {
      fc.pre(a !== b);
      const segments = segmentsOf(grid, Math.min(a, b), Math.max(a, b), kind, []);
      let at = Math.min(a, b);
      for (const { startTicks, endTicks, type, dots } of segments) {
        expect(startTicks).toBe(at);
        const plain = NOTE_TYPES.find(([name]) => name === type)?.[1] ?? 0;
        expect(endTicks - startTicks).toBe(dots === 1 ? plain * 1.5 : plain);
        at = endTicks;
      }
      expect(at).toBe(Math.max(a, b));
    }),
    { seed: SEED, numRuns: 500 },
  );
});

describe('beams', () => {
  const eighths = (places: readonly number[], rests: readonly number[] = []) =>
    places.map((place) => ({
      startTicks: place * 480,
      endTicks: place * 480 + 480,
      type: 'eighth' as const,
      dots: 0 as const,
      isTriplet: false,
      isRest: rests.includes(place),
    }));
  const first = (grid: ReturnType<typeof metricalGrid>, ...args: Parameters<typeof eighths>): string =>
    beamsOf(grid, eighths(...args))
      .map((each) => each[0] ?? '-')
      .join(' ');

  test('four plain eighths share half a bar', () => {
    expect(first(FOUR, [0, 1, 2, 3, 4, 5, 6, 7])).toBe('begin continue continue end begin continue continue end');
  });
  test('with a rest they go by beat, and a lone eighth carries a flag', () => {
    expect(first(FOUR, [0, 1, 2, 3], [0])).toBe('- - begin end');
  });
  test('six eighths go by dotted beat', () => {
    expect(first(metricalGrid({ count: 6, unit: 8 }), [0, 1, 2, 3, 4, 5])).toBe(
      'begin continue end begin continue end',
    );
  });
  test('seven eighths go 2+2+3', () => {
    const grid = metricalGrid({ count: 7, unit: 8 });
    expect(first(grid, [0, 1, 2, 3, 4, 5, 6])).toBe('begin end begin end begin continue end');
  });
  test('an eighth and two sixteenths: the second beam joins the sixteenths alone', () => {
    const [eighth] = eighths([0]);
    const sixteenth = { type: '16th' as const, dots: 0 as const, isTriplet: false, isRest: false };
    const segments = [
      ...(eighth === undefined ? [] : [eighth]),
      { startTicks: 480, endTicks: 720, ...sixteenth },
      { startTicks: 720, endTicks: 960, ...sixteenth },
    ];
    expect(beamsOf(FOUR, segments)).toEqual([['begin'], ['continue', 'begin'], ['end', 'end']]);
  });
});
