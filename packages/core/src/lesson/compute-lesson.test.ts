import { expect, test } from 'vitest';
import { readChart, type Chart } from '../chart/index.ts';
import { severityOf } from '../issue/index.ts';
import { computeLesson, issueOfFault } from './compute-lesson.ts';
import { DEFAULT_CHOICES } from './lesson.ts';
import { makeLesson } from './make-lesson.ts';

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new Error(JSON.stringify(read.issues));
  return read.value;
}

/** A computation that cannot abide one chord. */
const failingAt =
  (symbol: string) =>
  (chart: Chart): void => {
    for (const bar of chart.sections.flatMap((section) => section.bars)) {
      if (bar.slots.some(({ chord }) => chord.symbol === symbol)) throw new RangeError('out of range');
    }
  };

test('what can be computed is what makeLesson computes', () => {
  const chart = chartOf('| Fm7 | Bb7 | Ebmaj7 |');
  const computed = computeLesson(chart, DEFAULT_CHOICES);
  expect(computed.ok && computed.value).toEqual(makeLesson(chart, DEFAULT_CHOICES));
});

test.each([
  ['| Fm7 | Bb7 | Ebmaj7 | A7 | Dm7 G7 | C |', 'G7', 5],
  ['pickup: 1\n| G7 | Cmaj7 | Dm7 |', 'G7', 0],
  ['| G7 |', 'G7', 1],
  ['|: Fm7 | Bb7 |1. Ebmaj7 :|2. Ab7 | G7 | G7 |', 'G7', 5],
])('a fault is an issue that names the first bar at fault: %s', (text, symbol, bar) => {
  const issue = issueOfFault(new RangeError('out of range'), chartOf(text), failingAt(symbol));
  expect(issue).toMatchObject({ code: 'lesson.bar-not-computed', place: { bar }, args: { reason: 'out of range' } });
  expect(issue.args['chords']).toContain(symbol);
  expect(severityOf(issue)).toBe('error');
});

test('a fault that hangs on no bar names none', () => {
  const chart = chartOf('| Fm7 | Bb7 |');
  const always = (): never => {
    throw new Error('no hand');
  };
  expect(issueOfFault(new Error('no hand'), chart, always)).toMatchObject({ code: 'lesson.not-computed', place: {} });
  expect(issueOfFault('gone', chart, () => undefined)).toMatchObject({ args: { reason: 'gone' }, place: {} });
});
