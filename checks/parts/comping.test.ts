/**
 * The left hand leaves room: over the demo, comping thins where the solo thickens. Source: common practice; the bound of −0.3 is
 * the product's own.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { comp, DEFAULT_CHOICES, makeLesson, randomSource, readChart } from '@fivespan/core';

const BAR_TICKS = 3840;

function correlation(xs: readonly number[], ys: readonly number[]): number {
  const mean = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0) / values.length;
  const [x, y] = [mean(xs), mean(ys)];
  const product = (a: readonly number[], b: readonly number[], c: number, d: number): number =>
    a.reduce((sum, each, index) => sum + (each - c) * (b[index]! - d), 0);
  return product(xs, ys, x, y) / Math.sqrt(product(xs, xs, x, x) * product(ys, ys, y, y));
}

const read = readChart(readFileSync(join(import.meta.dirname, '../../examples/DEMO.chart'), 'utf8'));
if (!read.ok) throw new TypeError('the demo must be a chart');
const demo = read.value;

test.each([1, 2, 3] as const)('at level %i strokes and solo onsets a bar are opposed over the demo', (level) => {
  const solo: number[] = [];
  const comping: number[] = [];
  for (const seed of [1, 2, 3, 4]) {
    const lesson = makeLesson(demo, { ...DEFAULT_CHOICES, seed, level });
    const chords = comp(lesson.analysis, {
      style: 'rootless',
      solo: lesson.chorus,
      random: randomSource(seed, 'comping'),
    });
    const inBar = (notes: readonly { readonly startTicks: number }[], bar: number): number =>
      notes.filter(({ startTicks }) => Math.floor(startTicks / BAR_TICKS) === bar).length;
    for (const { index } of lesson.analysis.form.bars) {
      solo.push(inBar(lesson.chorus, index));
      comping.push(inBar(chords, index));
    }
    // and it is there: not silent, not in every beat
    expect(chords.length / lesson.analysis.form.bars.length).toBeGreaterThan(0.5);
    expect(chords.length / lesson.analysis.form.bars.length).toBeLessThan(2.5);
  }
  expect(correlation(solo, comping)).toBeLessThanOrEqual(-0.3);
});
