import { barsOf, type Bar, type Chart } from '../chart/index.ts';
import type { Issue, Result } from '../issue/index.ts';
import { NO_CHORD, type Key } from '../theory/index.ts';
import type { Choices, Lesson } from './lesson.ts';
import { makeLesson } from './make-lesson.ts';

/** A chart whose bars from one on are silent: as long as before, with the ids it had. */
function silentFrom(chart: Chart, firstSilent: number): Chart {
  let index = 0;
  const silenced = (bar: Bar): Bar =>
    index++ < firstSilent ? bar : { ...bar, slots: bar.slots.map((slot) => ({ ...slot, chord: NO_CHORD })) };
  return { ...chart, sections: chart.sections.map((section) => ({ ...section, bars: section.bars.map(silenced) })) };
}

function fails(compute: (chart: Chart) => unknown, chart: Chart): boolean {
  try {
    compute(chart);
    return false;
  } catch {
    return true;
  }
}

/**
 * What is reported where computing failed though the chart could be read: a fault of this program, yet a teacher can go
 * round it where they know the bar. It is the first bar with which it fails, found by halving: about ten more attempts.
 * @param error what was thrown
 * @param compute what failed with the chart; it is called with charts that are silent from some bar on
 */
export function issueOfFault(error: unknown, chart: Chart, compute: (chart: Chart) => unknown): Issue {
  const reason = error instanceof Error ? error.message : String(error);
  const bars = barsOf(chart);
  // what fails with every bar silent, or does not fail again, has no bar
  if (fails(compute, silentFrom(chart, 0)) || !fails(compute, chart)) {
    return { code: 'lesson.not-computed', args: { reason }, place: {} };
  }
  let sound = 0;
  let faulty = bars.length;
  while (faulty - sound > 1) {
    const middle = Math.floor((sound + faulty) / 2);
    if (fails(compute, silentFrom(chart, middle))) faulty = middle;
    else sound = middle;
  }
  const { number, slots } = bars[faulty - 1] as Bar;
  const chords = slots.map(({ chord }) => chord.symbol).join(' ');
  return { code: 'lesson.bar-not-computed', args: { bar: number, chords, reason }, place: { bar: number } };
}

/**
 * Computes everything a lesson holds, as makeLesson does; what goes wrong is an issue that names the bar, never an exception.
 * @param key the key to make it in; null for the chart's own
 * @param make a lesson maker that remembers, where one lesson is made again and again
 */
export function computeLesson(
  chart: Chart,
  choices: Choices,
  key: Key | null = null,
  make: typeof makeLesson = makeLesson,
): Result<Lesson> {
  try {
    return { ok: true, value: make(chart, choices, key), warnings: [] };
  } catch (error) {
    return { ok: false, issues: [issueOfFault(error, chart, (tried) => makeLesson(tried, choices, key))] };
  }
}
