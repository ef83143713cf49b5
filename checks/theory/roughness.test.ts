/**
 * Roughness.
 * Sources: docs/sources.md, 3: public code citing Sethares 1993 (with the author's own program as its
 * reference), Hutchinson and Knopoff 1978 and Vassilakis 2001 (gh:pmcharrison/dycon, its tests; mark R), a page on the
 * minima of six-partial tones (R preinfarction.blogspot.com), values computed from the formulas (C).
 */
import { describe, expect, test } from 'vitest';
import {
  chordToneDegrees,
  criticalBandwidthHz,
  degrees,
  hutchinsonKnopoffCurve,
  HUTCHINSON_KNOPOFF_TIMBRE,
  midi,
  partialsOf,
  pitchClassOf,
  referenceVoicing,
  relativeRoughness,
  roughnessOf,
  roughnessOver,
  SETHARES_TIMBRE,
  usualKeys,
  type Chord,
  type Midi,
  type RoughnessModel,
  type SoundPartial,
} from '@fivespan/core';

const notes = (...values: number[]): Midi[] => values.map(midi);
const tones = (hz: readonly number[], amplitudes: readonly number[]): SoundPartial[] =>
  hz.map((frequencyHz, index) => ({ frequencyHz, amplitude: amplitudes[index] as number }));

const raw = (chord: readonly number[], model: RoughnessModel): number =>
  roughnessOf(partialsOf(notes(...chord), SETHARES_TIMBRE), model);

const MODELS: readonly RoughnessModel[] = ['sethares', 'sethares-minimum', 'hutchinson-knopoff', 'vassilakis'];

describe('Sethares, constants of the author’s program, smaller amplitude (R, reproduced exactly: C)', () => {
  const reference = roughnessOf(tones([440, 460], [1, 1]), 'sethares-minimum');
  test.each([
    [[440, 460, 480], [1, 1, 1], 2.9194],
    [[440, 460, 480], [1, 2, 3], 3.9161],
    [[440, 460, 480], [3, 2, 1], 3.9194],
    [[300, 250, 275, 425], [1.5, 2, 9, 4], 4.8657],
  ])('%j with amplitudes %j, relative to 440 and 460 Hz: %f', (hz, amplitudes, expected) => {
    expect(roughnessOf(tones(hz, amplitudes), 'sethares-minimum') / reference).toBeCloseTo(expected, 4);
  });
});

describe('Hutchinson and Knopoff (R)', () => {
  test('the curve', () => {
    expect(hutchinsonKnopoffCurve(0.5)).toBeCloseTo(0.5413, 4);
    expect(hutchinsonKnopoffCurve(1)).toBeCloseTo(0.0397, 4);
    expect(hutchinsonKnopoffCurve(1.5)).toBe(0);
  });
  test('the critical bandwidth', () => {
    expect(criticalBandwidthHz(400, 440)).toBeCloseTo(87.225, 3);
    expect(criticalBandwidthHz(400, 380)).toBeCloseTo(83.123, 3);
  });
  test.each([
    [[60, 61], 1, 0.499],
    [[69, 70], 1, 0.491],
    [[60, 61], 11, 0.484],
    [[60, 64, 67], 11, 0.12],
    [[60, 63, 67], 11, 0.13],
  ])('%j with %i harmonics: %f', (chord, harmonics, expected) => {
    const partials = partialsOf(notes(...chord), { ...HUTCHINSON_KNOPOFF_TIMBRE, harmonics });
    expect(roughnessOf(partials, 'hutchinson-knopoff')).toBeCloseTo(expected, 3);
  });
});

test('Vassilakis calls a diminished triad rougher than a major one (R dycon tests)', () => {
  expect(raw([60, 63, 66], 'vassilakis')).toBeGreaterThan(raw([60, 64, 67], 'vassilakis'));
});

test('C4 tempered dyads from smooth to rough: 12 7 9 5 10 8 11 6 4 3 2 1 (C)', () => {
  const dyads = Array.from({ length: 12 }, (_, index) => index + 1);
  expect(dyads.sort((a, b) => raw([60, 60 + a], 'sethares-minimum') - raw([60, 60 + b], 'sethares-minimum'))).toEqual([
    12, 7, 9, 5, 10, 8, 11, 6, 4, 3, 2, 1,
  ]);
});

test('minima of two six-partial tones over C4 include 6/5, 5/4, 4/3, 3/2, 5/3 and 2/1 (R)', () => {
  const baseHz = 440 * 2 ** (-9 / 12);
  const at = (ratio: number): number =>
    roughnessOf(
      [1, ratio].flatMap((each) =>
        Array.from({ length: 6 }, (_, index) => ({
          frequencyHz: baseHz * each * (index + 1),
          amplitude: 0.88 ** index,
        })),
      ),
      'sethares',
    );
  for (const just of [6 / 5, 5 / 4, 4 / 3, 3 / 2, 5 / 3, 2]) {
    expect(at(just), String(just)).toBeLessThan(at(just - 0.004));
    expect(at(just), String(just)).toBeLessThan(at(just + 0.004));
  }
  // and no minimum at a tritone: the check can fail
  expect(at(1.42)).toBeGreaterThan(at(1.5));
});

describe('the 0–1 scale', () => {
  test.each(MODELS)('%s: one note is 0, a cluster 1', (model) => {
    expect(relativeRoughness(notes(60), model)).toBe(0);
    expect(relativeRoughness(notes(60, 61, 62, 63), model)).toBeCloseTo(1, 12);
    const octave = relativeRoughness(notes(60, 72), model);
    expect(octave).toBeGreaterThanOrEqual(0);
    expect(octave).toBeLessThan(0.05);
  });
});

const MINOR_PENTATONIC = [0, 3, 5, 7, 10];
const tonicChord = (index: number, spelled: string): Chord => ({
  kind: 'chord',
  root: (usualKeys('major')[index] as { tonic: Chord['root'] }).tonic,
  quality: 'major',
  degrees: degrees(spelled),
  bass: null,
  suffix: 'maj7',
  symbol: 'maj7',
});

describe('over a tonic major chord', () => {
  // C: held in every setting tried: model, chord, register, all twelve keys
  test.each(MODELS)(
    '%s: the raised (Lydian) family is smoother than the home position with the avoid note',
    (model) => {
      for (let index = 0; index < 12; index++) {
        for (const spelled of ['1 3 5 7', '1 3 5 6', '1 3 5']) {
          const chord = tonicChord(index, spelled);
          for (const above of [12, 24]) {
            const at = (thumb: number): number => {
              const low = 48 + pitchClassOf(chord.root) + above + thumb;
              return roughnessOver(chord, notes(...MINOR_PENTATONIC.map((step) => low + step)), model);
            };
            const raised = [9, 4, 11].map(at);
            const mean = raised.reduce((sum, each) => sum + each, 0) / raised.length;
            // the family on the second degree holds the natural 4
            expect(mean).toBeLessThan(at(2));
          }
        }
      }
    },
  );
});

test('a reference voicing holds its chord, tensions on top', () => {
  const chord: Chord = {
    kind: 'chord',
    root: (usualKeys('major')[0] as { tonic: Chord['root'] }).tonic,
    quality: 'dominant',
    degrees: degrees('1 3 5 b7 9 13'),
    bass: null,
    suffix: '13',
    symbol: 'C13',
  };
  expect(referenceVoicing(chord)).toEqual([48, 52, 55, 58, 62, 69]);
  expect(chordToneDegrees(chord)).toEqual(degrees('1 3 5 b7'));
});
