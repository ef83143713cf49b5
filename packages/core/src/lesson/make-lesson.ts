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

/** A chart in one key with the analysis of it, before a hand is laid on it. */
export interface LessonGround {
  readonly chart: Chart;
  /** The key of the chart as it is written, stated or found: where the pins are kept. */
  readonly writtenKey: Key;
  /** The teacher's pins, in this key. */
  readonly pins: Choices['pins'];
  readonly analysis: Analysis;
}

/**
 * A chart in a key, analysed.
 * @param key null for the one the lesson is shown in, else the chart's own
 */
export function groundOf(chart: Chart, choices: Choices, key: Key | null): LessonGround {
  const own = analyse(chart, choices.pins.analysis);
  const writtenKey = own.key;
  const to = key ?? choices.shownIn ?? writtenKey;
  if (formatKey(to) === formatKey(writtenKey)) return { chart, writtenKey, pins: choices.pins, analysis: own };
  const inKey = transposeChart(chart, to, writtenKey);
  const pins = transposePins(choices.pins, writtenKey, to, choices.bass.range);
  return { chart: inKey, writtenKey, pins, analysis: analyse(inKey, pins.analysis) };
}

/**
 * Computes everything a lesson holds, in one key. Pure: the same chart, choices and key give the same lesson.
 * Each part draws from its own named random source, so that a change in one leaves the others as they are.
 * @param key the key to make it in; null for the one it is shown in, else the chart's own
 * @returns the lesson; the pins in its choices are those of its key
 * @example makeLesson(chart, DEFAULT_CHOICES, parseKey('F major')!).analysis.key // F major
 */
export function makeLesson(chart: Chart, choices: Choices, key: Key | null = null): Lesson {
  const { chart: inKey, writtenKey, pins, analysis } = groundOf(chart, choices, key);
  const plan = planRoute(analysis, routeOptionsOf(analysis, choices, pins));
  const { level, hand, seed, bass, voicings } = choices;
  const random = (name: string) => randomSource(seed, name);
  const parts = makeParts({ analysis, plan, level, hand, bass, voicings, pins: pins.parts, random });
  const score = buildScore({ chart: inKey, analysis, plan, ...parts });
  return {
    chart: inKey,
    writtenKey,
    choices: { ...choices, pins },
    analysis,
    plan,
    ...parts,
    score,
    performance: perform(score),
  };
}
