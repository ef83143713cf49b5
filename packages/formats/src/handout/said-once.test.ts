import { expect, test } from 'vitest';
import { DEFAULT_CHOICES, makeLesson, readChart, stavesOf, type Score } from '@fivespan/core';
import { withoutRepeats } from './said-once.ts';

function scoreOf(text: string): Score {
  const chart = readChart(text);
  if (!chart.ok) throw new Error('the chart must be right');
  return makeLesson(chart.value, DEFAULT_CHOICES).score;
}

const A = '| Fm7 | Bb7 | Ebmaj7 | % |';
const B = '| Am7b5 | D7alt | Gm6 | % |';

test('bars that stand before are left out and referred to; those between them follow without a hole', () => {
  const score = scoreOf(`key: Eb major\n\nA:\n${A}\nA2:\n${A}\nB:\n${B}\nA3:\n${A}\n`);
  const once = withoutRepeats(score, stavesOf('study'));
  expect(once.again).toEqual([
    { from: 5, to: 8, asFrom: 1, asTo: 4 },
    { from: 13, to: 16, asFrom: 1, asTo: 4 },
  ]);
  expect(once.score.bars.map(({ number }) => number)).toEqual([1, 2, 3, 4, 9, 10, 11, 12]);
  expect(once.score.bars.map(({ startTicks }) => startTicks)).toEqual(
    [0, 1, 2, 3, 4, 5, 6, 7].map((bar) => bar * 3840),
  );
  expect(once.score.endTicks).toBe(8 * 3840);
  const study = (each: Score) => each.staves.find(({ role }) => stavesOf('study').includes(role))?.notes ?? [];
  const bridge = study(score).filter(({ startTicks }) => startTicks >= 8 * 3840 && startTicks < 12 * 3840);
  expect(bridge.length).toBeGreaterThan(10);
  expect(study(once.score).filter(({ startTicks }) => startTicks >= 4 * 3840)).toEqual(
    bridge.map((note) => ({ ...note, startTicks: note.startTicks - 4 * 3840 })),
  );
});

test('a repeat is the same bars again; a pickup keeps its place before the first bar', () => {
  const { again, score } = withoutRepeats(
    scoreOf(`key: Eb major\npickup: 1\n\n| Bb7 |: Fm7 | Bb7 | Ebmaj7 | Cm7 :|`),
    [],
  );
  expect(again).toEqual([{ from: 1, to: 4, asFrom: 1, asTo: 4 }]);
  expect(score.bars[0]?.startTicks).toBeLessThan(0);
  expect(score.bars[1]?.startTicks).toBe(0);
});

test('what differs by a chord, or is shorter than four bars, is printed', () => {
  const score = scoreOf(`key: Eb major\n\n${A}\n| Fm7 | Bb7 | Ebmaj7 | Cm7 |`);
  expect(withoutRepeats(score, stavesOf('study'))).toEqual({ score, again: [] });
});
