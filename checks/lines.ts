/**
 * Lines over a chart for checks that need hundreds: what is found in the chart in a key, and the hand's way at a level,
 * are computed once and shared by seeds and levels. Parts a check does not look at are not made. `lines.test.ts` holds
 * that a lesson has the same.
 */
import {
  analyse,
  DEFAULT_CHOICES,
  improviseChorus,
  planRoute,
  randomSource,
  transposeChart,
  walkBass,
  type Analysis,
  type BassNote,
  type Chart,
  type Key,
  type Lesson,
} from '@fivespan/core';

type Level = Lesson['choices']['level'];

/** A function whose answers are kept, by its arguments' texts under its first argument. */
function kept<First extends object, Rest extends readonly (string | number | null)[], Value>(
  find: (first: First, ...rest: Rest) => Value,
): (first: First, ...rest: Rest) => Value {
  const known = new WeakMap<First, Map<string, Value>>();
  return (first, ...rest) => {
    const ofFirst = known.get(first) ?? new Map<string, Value>();
    known.set(first, ofFirst);
    const key = rest.join(' ');
    if (!ofFirst.has(key)) ofFirst.set(key, find(first, ...rest));
    return ofFirst.get(key) as Value;
  };
}

const { pins, hand, bass } = DEFAULT_CHOICES;
const ownAnalysis = kept((chart: Chart) => analyse(chart, pins.analysis));
const inKey = new Map<string, Key>();
const moved = kept((chart: Chart, key: string) =>
  ownAnalysis(transposeChart(chart, inKey.get(key) as Key, ownAnalysis(chart).key)),
);
const planOf = kept((analysis: Analysis, level: Level) => planRoute(analysis, { pins: pins.plan, hand, level }));

/** What is found in a chart, in its own key or another. */
function analysisIn(chart: Chart, key: Key | null): Analysis {
  if (key === null) return ownAnalysis(chart);
  const name = JSON.stringify(key);
  inKey.set(name, key);
  return name === JSON.stringify(ownAnalysis(chart).key) ? ownAnalysis(chart) : moved(chart, name);
}

/** The right hand's line, with what it stands on. */
export function chorusIn(
  chart: Chart,
  level: Level,
  seed: number,
  key: Key | null = null,
): Pick<Lesson, 'analysis' | 'plan' | 'chorus' | 'choices'> {
  const analysis = analysisIn(chart, key);
  const plan = planOf(analysis, level);
  const chorus = improviseChorus(plan, { level, random: randomSource(seed, 'chorus') });
  return { analysis, plan, chorus, choices: { ...DEFAULT_CHOICES, level, seed } };
}

/** The left hand's line, with what it stands on: it hears the right hand's. */
export function bassIn(
  chart: Chart,
  level: Level,
  seed: number,
  key: Key | null = null,
): { readonly analysis: Analysis; readonly bass: readonly BassNote[] } {
  const { analysis, chorus } = chorusIn(chart, level, seed, key);
  return { analysis, bass: walkBass(analysis, randomSource(seed, 'bass'), { level, ...bass, line: chorus }) };
}
