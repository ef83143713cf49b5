import { expect, test } from 'vitest';
import { DEFAULT_CHOICES, makeLesson, readChart } from '@fivespan/core';
import { busiestPhrase, excerptOf } from './excerpt.ts';

const chart = readChart('key: Eb major\n\n| Fm7 | Bb7 | Ebmaj7 | % | Am7b5 | D7alt | Gm6 | % |');
if (!chart.ok) throw new Error('the chart must be right');
const { score } = makeLesson(chart.value, DEFAULT_CHOICES);

test('an excerpt begins with its first bar and ends with its last, whatever sounds on', () => {
  const excerpt = excerptOf(score, 4, 4);
  expect(excerpt.bars.map(({ number }) => number)).toEqual([5, 6, 7, 8]);
  expect(excerpt.bars[0]?.startTicks).toBe(0);
  expect(excerpt.endTicks).toBe(4 * 4 * 960);
  for (const staff of excerpt.staves) {
    const whole = score.staves.find(({ role }) => role === staff.role);
    const within = whole?.notes.filter(({ startTicks }) => startTicks >= 4 * 3840 && startTicks < 8 * 3840) ?? [];
    expect(staff.notes.map(({ pitch, startTicks }) => [pitch, startTicks + 4 * 3840])).toEqual(
      within.map(({ pitch, startTicks }) => [pitch, startTicks]),
    );
    for (const note of staff.notes) expect(note.startTicks + note.durationTicks).toBeLessThanOrEqual(excerpt.endTicks);
  }
});

test('the busiest phrase is the one in which the thumb moves most', () => {
  const phrase = busiestPhrase(score);
  const counts = [0, 4].map((first) => excerptOf(score, first, 4).thumbs.length);
  expect(phrase?.score.thumbs.length).toBe(Math.max(...counts));
  expect(score.thumbs[phrase?.firstThumb ?? 0]?.thumb).toBe(phrase?.score.thumbs[0]?.thumb);
  expect(busiestPhrase({ ...score, thumbs: [] })).toBeUndefined();
});
