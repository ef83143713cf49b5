/** Charts of our own for tests, read, analysed and planned. */
import fc from 'fast-check';
import { analyse, NO_ANALYSIS_PINS, type Analysis } from '../analysis/index.ts';
import { readChart, type Chart } from '../chart/index.ts';
import { MINOR_PENTATONIC, positionAt } from '../hand/index.ts';
import { NO_PLAN_PINS, planRoute, type Plan } from '../plan/index.ts';
import { midi, noteName } from '../theory/index.ts';
import type { ChorusLevel } from './chorus/index.ts';

export function inventedChart(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new TypeError(`text must be a chart: ${JSON.stringify(read.issues)}`);
  return read.value;
}

export function analysisOf(text: string): Analysis {
  return analyse(inventedChart(text), NO_ANALYSIS_PINS);
}

export function planOf(text: string, level: ChorusLevel = 1): Plan {
  return planRoute(analysisOf(text), { pins: NO_PLAN_PINS, hand: 'medium', level });
}

/** The plan with the hand in the minor pentatonic on this thumb throughout. */
export function withMinorPentatonic(plan: Plan, thumb: string, thumbMidi: number): Plan {
  const position = positionAt(MINOR_PENTATONIC, noteName(thumb));
  return { ...plan, slots: plan.slots.map((slot) => ({ ...slot, position, thumbMidi: midi(thumbMidi) })) };
}

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
const SUFFIXES = ['', 'm', '6', '7', 'maj7', 'm7', 'm6', 'm(maj7)', 'm7b5', 'dim7', '7alt', '7(b9)', '+7', '7sus', '+'];
/** Metres with the numbers of chords that share a bar evenly. */
const METERS: readonly (readonly [string, readonly number[]])[] = [
  ['4/4', [1, 2, 4]],
  ['3/4', [1, 3]],
  ['5/4', [1, 5]],
  ['2/2', [1, 2]],
  ['6/8', [1, 2]],
  ['12/8', [1, 2, 4]],
  ['7/8', [1, 7]],
  ['3/8', [1, 3]],
  ['6/16', [1, 2]],
];

/** Any chords in any metre, one to sixteen bars, now and then nobody playing. */
export const anyChartText: fc.Arbitrary<string> = fc.constantFrom(...METERS).chain(([meter, shares]) => {
  const chord = fc.oneof(
    {
      weight: 12,
      arbitrary: fc.tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...SUFFIXES)).map((each) => each.join('')),
    },
    { weight: 1, arbitrary: fc.constant('N.C.') },
    {
      weight: 1,
      arbitrary: fc.tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...ROOTS)).map(([a, b]) => `${a}7/${b}`),
    },
  );
  const bar = fc
    .constantFrom(...shares)
    .chain((count) => fc.array(chord, { minLength: count, maxLength: count }))
    .map((chords) => chords.join(' '));
  return fc.array(bar, { minLength: 1, maxLength: 16 }).map((bars) => `meter: ${meter}\nA:\n| ${bars.join(' | ')} |\n`);
});
