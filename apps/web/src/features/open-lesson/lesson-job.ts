import {
  computeLesson,
  lessonMaker,
  type makeLesson,
  messageOf,
  remedyOf,
  type Chart,
  type Choices,
  type Key,
  type Lesson,
} from '@fivespan/core';
import type { Job } from '../../platform/workers/index.ts';

/** A chart as written and the choices; the key to make it in, null for the one it is shown in. */
export interface LessonOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key | null;
}

/** The open lesson is made again with each change: what a change leaves alone is remembered. */
const again = lessonMaker();

/** The lesson of an order. Where it cannot be computed, what is thrown says at which bar. */
export function lessonOf({ chart, choices, key }: LessonOrder, make?: typeof makeLesson): Lesson {
  const computed = computeLesson(chart, choices, key, make);
  if (computed.ok) return computed.value;
  throw new Error(computed.issues.map((issue) => `${messageOf(issue)}; ${remedyOf(issue)}`).join('. '));
}

/** Computes everything a lesson holds. */
export const lessonJob: Job<LessonOrder, Lesson> = async (order) => ({ value: lessonOf(order, again) });
