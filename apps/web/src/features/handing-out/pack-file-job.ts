import { makeLesson, type Chart, type Choices, type Key, type Lesson, type PackFileName } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { makePackFile } from '@fivespan/formats/pack';
import type { Job } from '../../platform/workers/index.ts';
import { openPress } from './press.ts';

/** One file of a lesson in one key. */
export interface PackFileOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly key: Key;
  readonly file: PackFileName;
  readonly paper: Paper;
}

/** The lesson last computed here: the four files of a key come one after the other. */
let last: { readonly text: string; readonly lesson: Lesson } | undefined;

function lessonOf({ chart, choices, key }: PackFileOrder): Lesson {
  const text = JSON.stringify([chart, choices, key]);
  if (last?.text !== text) last = { text, lesson: makeLesson(chart, choices, key) };
  return last.lesson;
}

/** Makes one file of a pack: one job each, so that what a hand waits for gets in between. */
export const packFileJob: Job<PackFileOrder, Uint8Array> = async (order, watch) => {
  const lesson = lessonOf(order);
  await watch.breathe();
  if (watch.cancelled()) return undefined;
  const bytes = await makePackFile(order.file, lesson, order.paper, openPress);
  return { value: bytes, transfer: [bytes.buffer as ArrayBuffer] };
};
