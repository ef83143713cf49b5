import { DEFAULT_CHOICES, ENGINE_VERSION, readChart, writeLessonDocument, type Choices } from '@fivespan/core';
import { atom } from 'nanostores';
import demoChart from '../../../../../examples/DEMO.chart?raw';
import { LessonStore, type LessonSummary, type WriteOutcome } from '../../platform/storage/index.ts';
import { openLesson } from '../open-lesson/index.ts';

/** The demo lesson's chart, as the examples have it. */
export const DEMO_CHART: string = demoChart;

/** The lessons kept here, newest first; null until they have been read. */
export const $lessons = atom<readonly LessonSummary[] | null>(null);

const store = new LessonStore();

async function readAgain(): Promise<void> {
  $lessons.set(await store.list());
}

/** Reads what is kept; where nothing is, the demo lesson is put there. */
export async function startLessons(): Promise<void> {
  await readAgain();
  if ($lessons.get()?.length === 0) await createLesson(DEMO_CHART);
}

/**
 * Keeps a new lesson.
 * @returns its id, or what became of the write
 */
export async function createLesson(
  chartText: string,
  choices: Choices = DEFAULT_CHOICES,
): Promise<{ readonly id: string; readonly outcome: WriteOutcome }> {
  const read = readChart(chartText);
  const id = crypto.randomUUID();
  const now = Date.now();
  const outcome = await store.add({
    id,
    title: read.ok ? read.value.title : '',
    document: writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION }),
    createdAt: now,
    changedAt: now,
    revision: 1,
  });
  await readAgain();
  return { id, outcome };
}

/** Puts a kept lesson on the desk. @returns undefined where there is none of that id */
export async function openStored(id: string): Promise<ReturnType<typeof openLesson> | undefined> {
  const stored = await store.read(id);
  return stored === undefined ? undefined : openLesson(store, stored);
}

export async function removeLesson(id: string): Promise<void> {
  await store.remove(id);
  await readAgain();
}
