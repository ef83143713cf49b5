/** What the spelling census counts: example charts in fifteen keys, computed as a lesson is but for score and sound. */
import { readdirSync, readFileSync } from 'node:fs';
import {
  analyse,
  arpeggioStudy,
  DEFAULT_CHOICES,
  improviseChorus,
  noteNameFromFifths,
  NO_ANALYSIS_PINS,
  planRoute,
  randomSource,
  readChart,
  transposeChart,
  walkBass,
  type Chart,
  type Key,
} from '@fivespan/core';
import {
  judgeSpelling,
  SPELLING_RULES,
  type Judged,
  type SpellingCensus,
  type SpellingRule,
} from './spelling-judge.ts';

const EXAMPLES = new URL('../../examples/', import.meta.url);

export const EXAMPLE_CHARTS: readonly Chart[] = readdirSync(EXAMPLES)
  .filter((name) => name.endsWith('.chart'))
  .sort()
  .map((name) => {
    const chart = readChart(readFileSync(new URL(name, EXAMPLES), 'utf8'));
    if (!chart.ok) throw new TypeError(`${name}: ${JSON.stringify(chart.issues)}`);
    return chart.value;
  });

/** All keys of a mode with up to seven accidentals. */
export const fifteenKeys = (mode: Key['mode']): Key[] =>
  Array.from({ length: 15 }, (_, index) => ({
    tonic: noteNameFromFifths(index - 7 + (mode === 'major' ? 0 : 3)),
    mode,
  }));

/** The key a chart is in, stated or found. */
export const keyOf = (chart: Chart): Key => analyse(chart, NO_ANALYSIS_PINS).key;

type Level = 1 | 2 | 3 | 4;

/**
 * A chart in a key at each level, as makeLesson makes it but for score and performance.
 * @param improvises the levels that have a chorus, which costs more than all the rest and takes its names from the positions
 */
export function judgedIn(
  chart: Chart,
  own: Key,
  key: Key,
  levels: readonly Level[],
  improvises: readonly Level[] = levels,
): Judged[] {
  const analysis = analyse(transposeChart(chart, key, own), NO_ANALYSIS_PINS);
  const { hand, bass, seed, pins } = DEFAULT_CHOICES;
  return levels.map((level) => {
    const plan = planRoute(analysis, { pins: pins.plan, hand, level });
    const random = (name: string): ReturnType<typeof randomSource> => randomSource(seed, name);
    return {
      analysis,
      plan,
      chorus: improvises.includes(level) ? improviseChorus(plan, { level, random: random('chorus') }) : [],
      bass: walkBass(analysis, random('bass'), { level, ...bass }),
      arpeggios: arpeggioStudy(plan, hand),
    };
  });
}

export const emptyCensus = (): SpellingCensus => ({
  judged: Object.fromEntries(SPELLING_RULES.map((each) => [each, 0])) as Record<SpellingRule, number>,
  faults: [],
});

/** Adds one census to another. */
export function addCensus(sum: SpellingCensus, more: SpellingCensus): void {
  for (const rule of SPELLING_RULES) sum.judged[rule] += more.judged[rule];
  sum.faults.push(...more.faults);
}

/** The census of a chart, whose own key is given, in another key over some levels. */
export function censusIn(
  chart: Chart,
  own: Key,
  key: Key,
  levels: readonly Level[],
  improvises: readonly Level[] = levels,
): SpellingCensus {
  const sum = emptyCensus();
  for (const each of judgedIn(chart, own, key, levels, improvises)) addCensus(sum, judgeSpelling(each));
  return sum;
}
