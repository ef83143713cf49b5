import { analyse, type Analysis } from '../analysis/index.ts';
import { transposeChart, type Chart } from '../chart/index.ts';
import { makeParts, NO_PART_PINS } from '../parts/index.ts';
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
 * @param own the analysis of the chart as it is written, by whoever lays it out in many keys
 */
export function groundOf(
  chart: Chart,
  choices: Choices,
  key: Key | null,
  own: Analysis = analyse(chart, choices.pins.analysis),
): LessonGround {
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
  return lessonWith((_, make) => make(), chart, choices, key);
}

/** Makes something, or finds what was made of the same things before. */
type Remembering = <Made>(what: string, make: () => Made, ...of: readonly unknown[]) => Made;

/** A lesson whose stages are made or remembered. `of` names everything a stage is made of but the stages before it. */
function lessonWith(remember: Remembering, chart: Chart, choices: Choices, key: Key | null): Lesson {
  const { level, hand, seed, curve, bass, voicings } = choices;
  // the bass's range moves its pins by octaves, and no other stage sees those
  const pinned = { ...choices.pins, parts: NO_PART_PINS };
  const inKey = [chart, pinned.analysis, choices.shownIn, key];
  const ground = remember('ground', () => groundOf(chart, { ...choices, pins: pinned }, key), inKey, pinned);
  const { writtenKey, analysis } = ground;
  const pins = transposePins(choices.pins, writtenKey, analysis.key, bass.range);
  const onTheWay = [inKey, pinned, hand, level, curve];
  const plan = remember('plan', () => planRoute(analysis, routeOptionsOf(analysis, choices, pins)), onTheWay);
  const random = (name: string) => randomSource(seed, name);
  const sources = { analysis, plan, level, hand, bass, voicings, pins: pins.parts, random };
  const parts = makeParts(sources, {}, ({ id, group }, search) =>
    remember(
      id,
      search,
      onTheWay,
      seed,
      bass,
      pins.parts.motives,
      group === 'voicings' ? [voicings, pins.parts.voicings] : null,
    ),
  );
  const score = buildScore({ chart: ground.chart, analysis, plan, ...parts });
  return {
    chart: ground.chart,
    writtenKey,
    choices: { ...choices, pins },
    analysis,
    plan,
    ...parts,
    score,
    performance: perform(score),
  };
}

/**
 * Makes one lesson after the other, as one is changed: a stage that nothing was changed for is not made again. The lessons are those
 * that makeLesson makes. It remembers one of each stage, the last.
 */
export function lessonMaker(): typeof makeLesson {
  const last = new Map<string, { readonly sign: string; readonly made: unknown }>();
  const remember: Remembering = <Made>(what: string, make: () => Made, ...of: readonly unknown[]): Made => {
    // by value: an order comes as a copy
    const sign = JSON.stringify(of);
    const before = last.get(what);
    if (before?.sign === sign) return before.made as Made;
    const made = make();
    last.set(what, { sign, made });
    return made;
  };
  return (chart, choices, key) => lessonWith(remember, chart, choices, key ?? null);
}
