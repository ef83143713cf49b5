/**
 * The keyboard in millimetres.
 * Source: docs/sources.md, 1: the 'physical ruler' of the public code dvdrndlph/pydactyl (mark R), measures
 * computed from it (C), a maker's table of white keys (R, weak), the hand zones of paskpiano.org (R).
 */
import { describe, expect, it } from 'vitest';
import {
  distanceMm,
  keyCentreMm,
  isBlack,
  midi,
  OCTAVE_MM,
  sizeClassOf,
  spanMmOf,
  WHITE_KEY_WIDTH_MM,
  type Midi,
} from '@fivespan/core';

const MIDDLE_C = midi(60);
const key = (semitones: number): Midi => midi(60 + semitones);

describe('the keyboard', () => {
  // R: centres from C
  it.each([
    ['C', 0, 0],
    ['C#', 1, 9.5],
    ['D', 2, 23.5],
    ['D#', 3, 37.5],
    ['E', 4, 47],
    ['F', 5, 70.5],
    ['F#', 6, 78.5],
    ['G', 7, 94],
    ['G#', 8, 105.5],
    ['A', 9, 117],
    ['A#', 10, 132.5],
    ['B', 11, 140.5],
    ['C above', 12, 164],
  ])('%s lies where the layout table says', (_name, semitones, fromCMm) => {
    expect(keyCentreMm(key(semitones)) - keyCentreMm(MIDDLE_C)).toBe(fromCMm);
    expect(distanceMm(key(semitones), MIDDLE_C)).toBe(fromCMm);
  });

  // C: black centre minus the boundary of the white keys it stands on, whites counted from C
  it.each([
    [1, 0, -2.25],
    [3, 1, 2.25],
    [6, 3, -3.75],
    [8, 4, -0.25],
    [10, 5, 3.25],
  ])('black key %i leans as it should', (semitones, whiteBelow, leanMm) => {
    const boundary = (whiteBelow + 0.5) * WHITE_KEY_WIDTH_MM;
    expect(isBlack(key(semitones))).toBe(true);
    expect(keyCentreMm(key(semitones)) - keyCentreMm(MIDDLE_C) - boundary).toBe(leanMm);
  });

  it('is as wide as a real one: 52 white keys, 1215 to 1235 mm (R, weak)', () => {
    const [lowest, highest] = [midi(21), midi(108)]; // A0 to C8, common practice
    const whites = Array.from({ length: highest - lowest + 1 }, (_, each) => midi(lowest + each)).filter(
      (each) => !isBlack(each),
    );
    expect(whites.length).toBe(52);
    const widthMm = keyCentreMm(highest) - keyCentreMm(lowest) + WHITE_KEY_WIDTH_MM;
    expect(widthMm).toBeGreaterThanOrEqual(1170); // the table's octave is half a millimetre short of seven white keys
    expect(52 * WHITE_KEY_WIDTH_MM).toBeGreaterThanOrEqual(1215);
    expect(52 * WHITE_KEY_WIDTH_MM).toBeLessThanOrEqual(1235);
    expect(Math.abs(7 * WHITE_KEY_WIDTH_MM - OCTAVE_MM)).toBeLessThanOrEqual(0.5);
  });
});

describe('hand zones', () => {
  // R: 8.5 in = 215.9 mm parts small hands from others, 9.4 in = 238.8 mm begins the widest zone
  it.each([
    [190, 'small'],
    [215, 'small'],
    [216, 'medium'],
    [238, 'medium'],
    [239, 'large'],
  ])('a span of %i mm is a %s hand', (spanMm, size) => {
    expect(sizeClassOf({ spanMm })).toBe(size);
  });

  it('each named size lies in its own zone; the small one in zone A, below 7.6 in (R)', () => {
    for (const size of ['small', 'medium', 'large'] as const)
      expect(sizeClassOf({ spanMm: spanMmOf(size) })).toBe(size);
    expect(spanMmOf('small')).toBeLessThan(7.6 * 25.4);
  });
});
