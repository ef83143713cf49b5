import { analyse } from '../analysis/index.ts';
import { transposeChart, type Chart } from '../chart/index.ts';
import { arpeggioStudy, improviseChorus, walkBass } from '../parts/index.ts';
import { perform } from '../performance/index.ts';
import { planRoute } from '../plan/index.ts';
import { randomSource } from '../random.ts';
import { buildScore } from '../score/index.ts';
import type { Key } from '../theory/index.ts';
import type { Choices, Lesson } from './lesson.ts';

/**
 * The keys a lesson is made in: those asked for, else the chart's own (stated or found).
 * @example keysOfLesson(chart, choices).map(formatKey) // → ['Eb major']
 */
export function keysOfLesson(chart: Chart, choices: Choices): readonly Key[] {
  return choices.keys.length > 0 ? choices.keys : [analyse(chart, choices.pins.analysis).key];
}

/**
 * Computes everything a lesson holds, in one key. Pure: the same chart, choices and key give the same lesson.
 * Each part draws from its own named random source, so that a change in one leaves the others as they are.
 * @param key the key to make it in; null for the chart's own
 */
export function makeLesson(chart: Chart, choices: Choices, key: Key | null = null): Lesson {
  const inKey = key === null ? chart : transposeChart(chart, key);
  const analysis = analyse(inKey, choices.pins.analysis);
  const plan = planRoute(analysis, { pins: choices.pins.plan, hand: choices.hand, level: choices.level });
  const bass = walkBass(analysis, randomSource(choices.seed, 'bass'));
  const arpeggios = arpeggioStudy(plan);
  const chorus = improviseChorus(plan, { level: choices.level, random: randomSource(choices.seed, 'chorus') });
  const score = buildScore({ chart: inKey, analysis, plan, bass, chorus, arpeggios });
  return { chart: inKey, choices, analysis, plan, bass, arpeggios, chorus, score, performance: perform(score) };
}
