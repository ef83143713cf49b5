import { DEFAULT_CHOICES, makeLesson, readChart } from '@fivespan/core';
import { expect, test } from 'vitest';
import { formViewOf } from '../playing/form-view.ts';
import { isMeantAt } from './meant-at.ts';

const read = readChart('title: Two\nkey: Bb major\n\n| Cm7 | F7 |\n');
if (!read.ok) throw new TypeError('two bars must be a chart');
const { bars, slots } = formViewOf(makeLesson(read.value, DEFAULT_CHOICES));
const [{ hand, families }] = slots as [(typeof slots)[number]];
/** A drill of thumbs: the bars alone, then the bars again. */
const twice = [...bars, ...bars];
const inThumbs = { bar: 0, bars: twice, hand, families };
const inPositions = { bar: 2, bars: twice, hand, families };

// Cm7 in B flat: minor pentatonics on D, G and C (README: three of them a fifth apart make the scale)
const THUMBS = [60, 62, 67];
const own = THUMBS.find((key) => key % 12 === (hand?.thumbMidi ?? 0) % 12) as number;
const others = THUMBS.filter((key) => key !== own);

test('one way, the thumb of the route alone is meant; a free hand may take any of the family', () => {
  expect(isMeantAt(inThumbs, 'thumb', own, false)).toBe(true);
  for (const key of others) {
    expect(isMeantAt(inThumbs, 'thumb', key, false)).toBe(false);
    expect(isMeantAt(inThumbs, 'thumb', key, true)).toBe(true);
  }
  // F is in the scale, and no thumb's
  expect(isMeantAt(inThumbs, 'thumb', 65, true)).toBe(false);
});

test('when the bars come again whole positions are meant', () => {
  for (const key of [60, 62, 63, 65, 67, 69, 70]) expect(isMeantAt(inPositions, 'thumb', key, false)).toBe(true);
  // no E natural in B flat
  expect(isMeantAt(inPositions, 'thumb', 64, false)).toBe(false);
});

test('where a hand lies nowhere, and where only the player knows, nothing is meant', () => {
  expect(isMeantAt({ ...inThumbs, hand: null }, 'thumb', 60, false)).toBe(null);
  expect(isMeantAt(inThumbs, null, 60, false)).toBe(null);
});
