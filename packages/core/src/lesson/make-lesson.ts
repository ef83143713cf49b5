import { analyse, type Analysis } from '../analysis/index.ts';
import { transposeChart, type Chart } from '../chart/index.ts';
import { makeParts } from '../parts/index.ts';
import { perform } from '../performance/index.ts';
import { ownCurve, planRoute, type RouteOptions } from '../plan/index.ts';
import { randomSource } from '../random.ts';
import { buildScore } from '../score/index.ts';
import { formatKey, modulo, pitchClass, pitchClassOf, usualKey, type Key } from '../theory/index.ts';
import type { Choices, Lesson } from './lesson.ts';

/**
 * The keys a lesson is made in: those asked for, else the chart's own (stated or found).
 * @example keysOfLesson(chart, choices).map(formatKey) // → ['Eb major']
 */
export function keysOfLesson(chart: Chart, choices: Choices): readonly Key[] {
  return choices.keys.length > 0 ? choices.keys : [analyse(chart, choices.pins.analysis).key];
}

/** Semitones up or down from one tonic to another, the nearer way: −5 to 6. */
function nearestSemitones(from: Key, to: Key): number {
  return modulo(pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 5, 12) - 5;
}

/** A teacher's pins in another key: they name slots and rungs, which stay, and keys and thumbs, which move. */
export function transposePins({ analysis, plan }: Choices['pins'], from: Key, to: Key): Choices['pins'] {
  const semitones = nearestSemitones(from, to);
  const moved = (key: Key): Key => usualKey(pitchClass(pitchClassOf(key.tonic) + semitones), key.mode);
  return {
    analysis: { ...analysis, regions: analysis.regions.map((pin) => ({ ...pin, key: moved(pin.key) })) },
    plan: {
      ...plan,
      positions: plan.positions.map((pin) => ({ ...pin, thumbMidi: pin.thumbMidi + semitones })),
    },
  };
}

/** How the hand's way is chosen, by the choices: their own curve of outsideness in place of the level's where there is one. */
export function routeOptionsOf(
  analysis: Analysis,
  { hand, level, curve }: Choices,
  pins: Choices['pins'],
): RouteOptions {
  const options = { pins: pins.plan, hand, level };
  return curve.length === 0 ? options : { ...options, curve: ownCurve(analysis, curve) };
}

/**
 * Computes everything a lesson holds, in one key. Pure: the same chart, choices and key give the same lesson.
 * Each part draws from its own named random source, so that a change in one leaves the others as they are.
 * @param key the key to make it in; null for the chart's own
 * @example makeLesson(chart, DEFAULT_CHOICES, parseKey('F major')!).analysis.key // F major
 */
export function makeLesson(chart: Chart, choices: Choices, key: Key | null = null): Lesson {
  const own = analyse(chart, choices.pins.analysis);
  const moves = key !== null && formatKey(key) !== formatKey(own.key);
  const inKey = moves ? transposeChart(chart, key, own.key) : chart;
  const pins = moves ? transposePins(choices.pins, own.key, key) : choices.pins;
  const analysis = moves ? analyse(inKey, pins.analysis) : own;
  const plan = planRoute(analysis, routeOptionsOf(analysis, choices, pins));
  const { level, hand, seed, bass } = choices;
  const parts = makeParts({ analysis, plan, level, hand, bass, random: (name) => randomSource(seed, name) });
  const score = buildScore({ chart: inKey, analysis, plan, ...parts });
  return { chart: inKey, choices, analysis, plan, ...parts, score, performance: perform(score) };
}
