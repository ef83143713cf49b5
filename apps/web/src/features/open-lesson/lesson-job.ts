import { makeLesson, type Chart, type Choices, type Key, type Lesson } from '@fivespan/core';
import type { Job } from '../../platform/workers/index.ts';

/** A chart and the choices; the key to make it in, null for the chart's own. */
export interface LessonOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key | null;
}

/** Computes everything a lesson holds. */
export const lessonJob: Job<LessonOrder, Lesson> = async ({ chart, choices, key }) => ({
  value: makeLesson(chart, choices, key),
});
