/** The lines checks are made of are a lesson's own. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DEFAULT_CHOICES, makeLesson, parseKey, readChart } from '@fivespan/core';
import { bassIn, chorusIn } from './lines.ts';

test('a line found by itself is the one in the lesson', () => {
  const chart = readChart(readFileSync(new URL('../examples/DEMO.chart', import.meta.url), 'utf8'));
  if (!chart.ok) throw new TypeError('the demo must be a chart');
  for (const [level, seed, name] of [
    [1, 3, null],
    [4, 5, 'F# major'],
  ] as const) {
    const key = name === null ? null : parseKey(name)!;
    const { chorus, bass, plan } = makeLesson(chart.value, { ...DEFAULT_CHOICES, level, seed }, key);
    expect(bassIn(chart.value, level, seed, key).bass).toEqual(bass);
    expect(chorusIn(chart.value, level, seed, key)).toMatchObject({ chorus, plan });
  }
});
