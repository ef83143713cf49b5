import { DEFAULT_CHOICES, readChart, usualProgramme, type Chart } from '@fivespan/core';
import { expect, test } from 'vitest';
import type { OpenLesson } from '../open-lesson/index.ts';
import { playableOf } from './playable.ts';

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
  overtaken: false,
  conflict: null,
};

test('a lesson is played as it stands', () => {
  expect(playableOf(lesson, programme)).toEqual({ lessonId: 'a', chart, choices: DEFAULT_CHOICES, programme });
});

test('a lesson of another music engine is not played before its teacher goes on', () => {
  expect(playableOf({ ...lesson, isHeld: true }, programme)).toBeNull();
});
