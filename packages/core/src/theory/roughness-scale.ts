import { degreeOnStep, type Chord } from './chord.ts';
import { semitonesOf, stepOf } from './degree.ts';
import { pitchClassOf } from './note-name.ts';
import { midi, type Midi } from './pitch.ts';
import {
  HUTCHINSON_KNOPOFF_TIMBRE,
  partialsOf,
  roughnessOf,
  SETHARES_TIMBRE,
  type RoughnessModel,
  type Timbre,
} from './roughness.ts';

/** The octave a reference voicing's root is in, from C3. */
const ROOT_FROM = 48;
/** Where the 1 of the 0–1 scale is measured: a chromatic cluster up from middle C. */
const CLUSTER_FROM = 60;

const timbreOf = (model: RoughnessModel): Timbre =>
  model === 'hutchinson-knopoff' ? HUTCHINSON_KNOPOFF_TIMBRE : SETHARES_TIMBRE;

/**
 * The one reference voicing of a chord: root from C3 to B3, then its degrees stacked upwards in thirds, tensions an octave
 * higher. One fixed voicing, because roughness depends on the voicing more than on the scale. A choice of ours.
 * @example referenceVoicing(chord('G7')) // → [55, 59, 62, 65]
 */
export function referenceVoicing(chord: Chord): readonly Midi[] {
  const root = ROOT_FROM + pitchClassOf(chord.root);
  const hasThird = degreeOnStep(chord, 2) !== undefined;
  const hasSeventh = degreeOnStep(chord, 6) !== undefined;
  const isTension = (step: number): boolean => ((step === 1 || step === 3) && hasThird) || (step === 5 && hasSeventh);
  return chord.degrees
    .map((each) => root + semitonesOf(each) + (isTension(stepOf(each)) ? 12 : 0))
    .sort((a, b) => a - b)
    .map(midi);
}

/** Roughness of a chromatic cluster, by model and number of notes. */
const clusters = new Map<string, number>();

function clusterRoughness(size: number, model: RoughnessModel): number {
  const key = `${model} ${size}`;
  let value = clusters.get(key);
  if (value === undefined) {
    const notes = Array.from({ length: size }, (_, index) => midi(CLUSTER_FROM + index));
    value = roughnessOf(partialsOf(notes, timbreOf(model)), model);
    clusters.set(key, value);
  }
  return value;
}

/**
 * Roughness of notes sounding together on a 0–1 scale: 0 is a single note's own, 1 is a chromatic cluster of as many notes
 * up from middle C, in the same model and timbre; what is rougher still (low clusters) counts as 1. Each note's own
 * partials are left out on both sides, so that one note is 0. It is reported and orders nothing: whether altered is rougher
 * than Mixolydian over a dominant depends on the voicing (docs/chord-scales.md), so it is no measure of outside.
 * @param notes MIDI notes, each once.
 * @example relativeRoughness([60, 61, 62].map(midi), 'sethares') // → 1
 */
export function relativeRoughness(notes: readonly Midi[], model: RoughnessModel = 'sethares'): number {
  if (notes.length < 2) return 0;
  const timbre = timbreOf(model);
  const own = (note: Midi): number => roughnessOf(partialsOf([note], timbre), model);
  const between = (all: readonly Midi[], total: number): number =>
    // Hutchinson and Knopoff's is a mean by power, so the notes' own is a mean as well
    total - all.reduce((sum, note) => sum + own(note), 0) / (model === 'hutchinson-knopoff' ? all.length : 1);
  const cluster = Array.from({ length: notes.length }, (_, index) => midi(CLUSTER_FROM + index));
  const value = between(notes, roughnessOf(partialsOf(notes, timbre), model));
  return Math.min(1, Math.max(0, value / between(cluster, clusterRoughness(notes.length, model))));
}

/**
 * Roughness of a position (or any notes) over a chord's reference voicing, 0–1 as relativeRoughness. A note the voicing
 * already sounds counts once.
 * @example roughnessOver(chord('Cmaj7'), [72, 74, 76, 79, 81].map(midi), 'sethares') // the major pentatonic over its chord
 */
export function roughnessOver(chord: Chord, notes: readonly Midi[], model: RoughnessModel = 'sethares'): number {
  return relativeRoughness([...new Set([...referenceVoicing(chord), ...notes])], model);
}
