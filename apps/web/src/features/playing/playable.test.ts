import { DEFAULT_CHOICES, readChart, usualProgramme, type Chart } from '@fivespan/core';
import { expect, test } from 'vitest';
import type { OpenLesson } from '../open-lesson/index.ts';
import { isSamePlayable, playableOf, type Playable } from './playable.ts';

const read = readChart('key: C major\n\nDm7 | G7 | Cmaj7 | Cmaj7\n');
const chart = (read.ok ? read.value : null) as Chart;
const programme = usualProgramme(chart, chart.key!);
const lesson: OpenLesson = {
  id: 'a',
  chartText: '',
  choices: DEFAULT_CHOICES,
  engine: 1,
  isHeld: false,
  chart,
  issues: [],
  canUndo: false,
  canRedo: false,
  saving: 'saved',
  conflict: null,
};

test('a lesson is played as it stands', () => {
  expect(playableOf(lesson, programme)).toEqual({ lessonId: 'a', chart, choices: DEFAULT_CHOICES, programme });
});

test('a lesson of another music engine is not played before its teacher goes on', () => {
  expect(playableOf({ ...lesson, isHeld: true }, programme)).toBeNull();
});

test('the same lesson, told anew from the disk, is played the same; another bar, choice, key or tempo is not', () => {
  const playable = playableOf(lesson, programme) as Playable;
  expect(isSamePlayable(playable, structuredClone(playable))).toBe(true);
  const [first, ...rest] = programme.choruses;
  const slower = { ...programme, choruses: [{ ...first!, tempoBpm: first!.tempoBpm - 1 }, ...rest] };
  const other = readChart('key: C major\n\nDm7 | G7 | Cmaj7 | Am7\n');
  for (const change of [
    { lessonId: 'b' },
    { chart: (other.ok ? other.value : null) as Chart },
    { choices: { ...DEFAULT_CHOICES, seed: DEFAULT_CHOICES.seed + 1 } },
    { programme: slower },
  ]) {
    expect(isSamePlayable(playable, { ...playable, ...change })).toBe(false);
  }
});
