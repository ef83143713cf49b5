import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyse, NO_ANALYSIS_PINS } from '../analysis/index.ts';
import { readChart, transposeChart, type Chart } from '../chart/index.ts';
import {
  distanceMm,
  keysOf,
  maskOf,
  MINOR_PENTATONIC,
  positionAt,
  reachOf,
  type HandSize,
  type Position,
  type Shape,
} from '../hand/index.ts';
import { containsSet, midi, noteName, pitchClass, transposeSet, usualKeys, type Midi } from '../theory/index.ts';
import { allowedFamilies } from './allowed-families.ts';
import { beatsAhead, freeThumbs, isSameThumb, slidesOf, type FreeThumb } from './free-thumbs.ts';
import { foundAfterChange, keysOfThumb, NOWHERE_FOUND, strike } from './hand-found.ts';
import { NO_PLAN_PINS, type PlanPins } from './plan.ts';
import { planRoute } from './route.ts';

const EXAMPLES = new URL('../../../../examples/', import.meta.url);
const chartOf = (text: string): Chart => {
  const read = readChart(text);
  if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
  return read.value;
};
const examples = readdirSync(EXAMPLES)
  .filter((name) => name.endsWith('.chart'))
  .map((name) => [name, chartOf(readFileSync(new URL(name, EXAMPLES), 'utf8'))] as const);

const PIANO = { lowest: midi(21), highest: midi(108) };
/** Every second rung of the ladder allowed everywhere: not what a teacher would do, but every case of it. */
const secondEverywhere = (slots: ReturnType<typeof analyse>['slots']): PlanPins => ({
  ...NO_PLAN_PINS,
  secondScales: slots.flatMap(({ played, chordScales }) => {
    const { id } = chordScales[1] ?? {};
    return id === undefined ? [] : [{ slot: played.slot.id, pass: played.playedBar.pass, chordScale: id }];
  }),
});

describe('the thumbs of a free hand', () => {
  test.each(examples)('are those that lie in the chord-scale, found by trying every key: %s', (_, chart) => {
    let seconds = 0;
    const hand: HandSize = 'medium';
    const reached = new Map<string, boolean>();
    const isReached = (shape: Shape, thumb: number): boolean => {
      const name = `${shape.id} ${thumb % 12}`;
      const known = reached.get(name) ?? reachOf(shape, pitchClass(thumb % 12), hand).verdict !== 'out of reach';
      reached.set(name, known);
      return known;
    };
    const wrong: string[] = [];
    const home = analyse(chart, NO_ANALYSIS_PINS).key;
    // the document's own check (apps/web, free-dom.test.tsx) goes through all twelve
    for (const [index, key] of usualKeys(home.mode).slice(0, 3).entries()) {
      const analysis = analyse(transposeChart(chart, key, home), NO_ANALYSIS_PINS);
      // a second family is looked for as the first is: once says enough
      const pins = index === 0 ? secondEverywhere(analysis.slots) : NO_PLAN_PINS;
      const allowed = allowedFamilies(pins, hand);
      for (const slot of planRoute(analysis, { pins, hand, level: 1 }).slots) {
        const families = allowed(slot);
        if (families.length > 0 !== (slot.family !== null)) wrong.push(`${key.tonic}: none`);
        if (families[1] !== undefined) seconds++;
        for (const { which, chordScale, family } of families) {
          if ((which === 'first' ? slot.chordScale : slot.analysed.chordScales[1]) !== chordScale) wrong.push(which);
          const { shape } = family;
          const expected: number[] = [];
          for (let thumb = 21; thumb + shape.steps[4] <= 108; thumb++) {
            const isInside = containsSet(chordScale.set, transposeSet(maskOf(shape), thumb));
            if (isInside && isReached(shape, thumb)) expected.push(thumb);
          }
          const shown = freeThumbs(families, PIANO).filter((each) => each.which === which);
          const found = shown.map(({ thumbMidi }) => thumbMidi).join();
          if (found !== expected.join()) wrong.push(`${chordScale.id}: ${found}, not ${expected.join()}`);
        }
      }
    }
    expect(wrong).toEqual([]);
    expect(seconds).toBeGreaterThan(0);
  });

  test('are in every octave shown, and nowhere else', () => {
    const positions = ['G', 'D', 'A'].map((name) => positionAt(MINOR_PENTATONIC, noteName(name)));
    const thumbs = freeThumbs([{ which: 'first', positions }], { lowest: midi(48), highest: midi(72) });
    expect(thumbs.map(({ thumbMidi }) => thumbMidi)).toEqual([50, 55, 57, 62, 67, 69]);
  });
});

const position = (pc: number): Position =>
  positionAt(
    MINOR_PENTATONIC,
    noteName(['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'][pc] as string),
  );
const places = (keys: readonly number[]): FreeThumb[] =>
  keys.map((key) => ({ thumbMidi: midi(key), position: position(key % 12), which: 'first' }));
const someKeys = fc
  .uniqueArray(fc.integer({ min: 36, max: 60 }), { maxLength: 6 })
  .map((keys) => keys.toSorted((a, b) => a - b));

/** Every way to pair what goes with what comes without crossing: the most pairs, then the least way. */
function bestWay(from: readonly number[], to: readonly number[]): { pairs: number; mm: number } {
  const [a, ...restFrom] = from;
  const [b, ...restTo] = to;
  if (a === undefined || b === undefined) return { pairs: 0, mm: 0 };
  const paired = bestWay(restFrom, restTo);
  const ways = [
    bestWay(restFrom, to),
    bestWay(from, restTo),
    { pairs: paired.pairs + 1, mm: paired.mm + distanceMm(a as Midi, b as Midi) },
  ];
  return ways.reduce((best, each) =>
    each.pairs > best.pairs || (each.pairs === best.pairs && each.mm < best.mm) ? each : best,
  );
}

describe('what stays and what slides', () => {
  test('what stays comes from itself; the rest slides uncrossed, as many as can, the shortest way', () => {
    fc.assert(
      fc.property(someKeys, someKeys, (from, to) => {
        const slides = slidesOf(places(from), places(to), isSameThumb);
        expect(slides).toHaveLength(to.length);
        const used = slides.filter((each) => each !== null);
        expect(new Set(used).size).toBe(used.length);
        let mm = 0;
        const moved: number[] = [];
        for (const [index, key] of to.entries()) {
          const source = slides[index];
          if (from.includes(key)) expect(from[source as number]).toBe(key);
          else if (source !== null && source !== undefined) {
            expect(to).not.toContain(from[source]);
            mm += distanceMm(from[source] as Midi, key as Midi);
            moved.push(source);
          }
        }
        expect(moved).toEqual(moved.toSorted((a, b) => a - b));
        const best = bestWay(
          from.filter((key) => !to.includes(key)),
          to.filter((key) => !from.includes(key)),
        );
        expect({ pairs: moved.length, mm }).toEqual(best);
      }),
      { seed: 15 },
    );
  });

  test('what comes is shown a beat ahead at least, earlier when fast or far', () => {
    const here = places([60, 65, 67]);
    expect(beatsAhead(here, here, 40)).toBe(1);
    expect(beatsAhead(here, places([61, 66, 68]), 60)).toBe(1);
    expect(beatsAhead(here, places([61, 66, 68]), 240)).toBeGreaterThan(1);
    fc.assert(
      fc.property(someKeys, someKeys, fc.integer({ min: 40, max: 320 }), (from, to, bpm) => {
        const beats = beatsAhead(places(from), places(to), bpm);
        expect(beats).toBeGreaterThanOrEqual(1);
        expect(beats).toBeLessThanOrEqual(4);
        expect(beatsAhead(places(from), places(to), bpm + 20)).toBeGreaterThanOrEqual(beats);
      }),
      { seed: 15 },
    );
  });
});

describe('where the hand is found', () => {
  const F_MAJOR = places([43, 50, 55, 57, 62, 67, 69, 74]);
  const play = (keys: readonly number[]) =>
    keys.reduce((found, key) => strike(found, midi(key), F_MAJOR), NOWHERE_FOUND);

  test('only where the keys leave one place, and it stays within that place', () => {
    // G B♭ C are in G and, B♭ apart, elsewhere too
    expect(play([55]).place).toBeNull();
    expect(play([55, 58]).place?.thumbMidi).toBe(55);
    expect(play([55, 58, 60, 65, 55]).place?.thumbMidi).toBe(55);
    // E is in A only: A C D E G
    expect(play([55, 58, 64]).place?.thumbMidi).toBe(57);
    // F♯ is in none: nothing is learnt from it
    expect(play([55, 58, 66]).place?.thumbMidi).toBe(55);
  });

  test('a place that is found holds the last key; all five of any place find it, in any order', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 40, max: 90 }), { maxLength: 12 }),
        fc.integer({ min: 0, max: F_MAJOR.length - 1 }),
        fc.shuffledSubarray([0, 1, 2, 3, 4], { minLength: 5 }),
        (before, place, order) => {
          const there = F_MAJOR[place] as FreeThumb;
          const keys = keysOfThumb(there);
          const found = play([...before, ...order.map((finger) => keys[finger] as number)]);
          expect(found.place !== null && isSameThumb(found.place, there)).toBe(true);
        },
      ),
      { seed: 15 },
    );
    expect(keysOfThumb(F_MAJOR[2] as FreeThumb)).toEqual(keysOf(position(7), midi(55)));
  });

  test('a chord that has the place too leaves the hand there, another lets it go', () => {
    const found = play([57, 60, 64]);
    expect(found.place?.thumbMidi).toBe(57);
    expect(foundAfterChange(found, places([50, 57, 64])).place?.thumbMidi).toBe(57);
    expect(foundAfterChange(found, places([56, 58]))).toEqual(NOWHERE_FOUND);
  });

  test('a key of the whole piano never throws', () => {
    for (let key = 0; key < 128; key++) expect(strike(NOWHERE_FOUND, midi(key), F_MAJOR).struck.length).toBeLessThan(6);
  });
});
