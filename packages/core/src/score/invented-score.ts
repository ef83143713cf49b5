/** Scores of our own for tests: the whole way from a chart's text to the written music. */
import { makeParts, NO_PART_PINS, type ChorusLevel } from '../parts/index.ts';
import { analysisOf, inventedChart } from '../parts/invented-plan.ts';
import { NO_PLAN_PINS, planRoute } from '../plan/index.ts';
import { randomSource } from '../random.ts';
import { buildScore, type ScoreSources } from './build-score.ts';
import type { Score } from './score.ts';

export function sourcesOf(text: string, seed = 1, level: ChorusLevel = 1): ScoreSources {
  const analysis = analysisOf(text);
  const plan = planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level });
  return {
    chart: inventedChart(text),
    analysis,
    plan,
    ...makeParts({
      analysis,
      plan,
      level,
      hand: 'medium',
      bass: { feel: null, range: 'left hand' },
      voicings: 'rootless',
      pins: NO_PART_PINS,
      random: (name) => randomSource(seed, name),
    }),
  };
}

export function scoreOf(text: string, seed = 1, level: ChorusLevel = 1): Score {
  return buildScore(sourcesOf(text, seed, level));
}
