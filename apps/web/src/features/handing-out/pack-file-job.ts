import type { Chart, Choices, Key, Lesson, LessonFileName } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { isPrinted, packFileSteps } from '@fivespan/formats/pack';
import { lessonOf as computed } from '../open-lesson/lesson-job.ts';
import { piecewiseJobs } from './piecewise-job.ts';
import { openPress } from './press.ts';

/** One file of a lesson in one key. */
export interface PackFileOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
  readonly file: LessonFileName;
  readonly paper: Paper;
}

/** The lesson last computed here: the four files of a key come one after the other. */
let last: { readonly text: string; readonly lesson: Lesson } | undefined;

function lessonOf({ chart, choices, key }: PackFileOrder): Lesson {
  const text = JSON.stringify([chart, choices, key]);
  if (last?.text !== text) last = { text, lesson: computed({ chart, choices, key }) };
  return last.lesson;
}

/** Makes one file of a pack. A step is a stretch of music engraved or a page drawn: long enough for a job. */
export const packFileJobs = piecewiseJobs<PackFileOrder>(async (order, watch) => {
  const press = isPrinted(order.file) ? await openPress() : null;
  await watch.breathe();
  return watch.cancelled() ? undefined : packFileSteps(order.file, lessonOf(order), order.paper, press);
}, 1);
