import { analyse, type Analysis } from '../analysis/index.ts';
import { transposeChart, type Chart } from '../chart/index.ts';
import { makeParts } from '../parts/index.ts';
import { perform } from '../performance/index.ts';
import { ownCurve, planRoute, type RouteOptions } from '../plan/index.ts';
import { randomSource } from '../random.ts';
import { buildScore } from '../score/index.ts';
import { formatKey, type Key } from '../theory/index.ts';
import type { Choices, Lesson } from './lesson.ts';
import { transposePins } from './pins-in-key.ts';

/**
 * The keys a lesson is made in: those asked for, else the one it is shown in, else the chart's own (stated or found).
 * @example keysOfLesson(chart, choices).map(formatKey) // → ['Eb major']
 */
export function keysOfLesson(chart: Chart, choices: Choices): readonly Key[] {
  if (choices.keys.length > 0) return choices.keys;
  return [choices.shownIn ?? analyse(chart, choices.pins.analysis).key];
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
 * @param key the key to make it in; null for the one it is shown in, else the chart's own
 * @returns the lesson; the pins in its choices are those of its key
 * @example makeLesson(chart, DEFAULT_CHOICES, parseKey('F major')!).analysis.key // F major
 */
export function makeLesson(chart: Chart, choices: Choices, key: Key | null = null): Lesson {
  const own = analyse(chart, choices.pins.analysis);
  const to = key ?? choices.shownIn ?? own.key;
  const moves = formatKey(to) !== formatKey(own.key);
  const inKey = moves ? transposeChart(chart, to, own.key) : chart;
  const pins = moves ? transposePins(choices.pins, own.key, to) : choices.pins;
  const analysis = moves ? analyse(inKey, pins.analysis) : own;
  const plan = planRoute(analysis, routeOptionsOf(analysis, choices, pins));
  const { level, hand, seed, bass } = choices;
  const parts = makeParts({ analysis, plan, level, hand, bass, random: (name) => randomSource(seed, name) });
  const score = buildScore({ chart: inKey, analysis, plan, ...parts });
  return {
    chart: inKey,
    writtenKey: own.key,
    choices: { ...choices, pins },
    analysis,
    plan,
    ...parts,
    score,
    performance: perform(score),
  };
}
