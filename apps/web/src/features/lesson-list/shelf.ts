import type { Key } from '@fivespan/core';
import { atom } from 'nanostores';
import {
  openLessonStore,
  persistence,
  type LessonStore,
  type Persistence,
  type Shelf,
  type StorageFault,
  type StoredLesson,
} from '../../platform/storage/index.ts';
import { headingOf } from '../open-lesson/index.ts';
import { firstBars } from './first-bars.ts';

/** A lesson in a list. */
export interface LessonSummary {
  readonly id: string;
  readonly title: string;
  readonly chartText: string;
  /** As the chart states it; null where it states none. */
  readonly key: Key | null;
  readonly tempoBpm: number | null;
  /** The first bars as one reads them, to know a tune by. */
  readonly firstBars: readonly string[];
  /** Milliseconds since 1970. */
  readonly createdAt: number;
  readonly changedAt: number;
  readonly revision: number;
}

/** What is shown about the place where lessons are kept. */
export interface ShelfState {
  /** Why nothing lasts longer than this page; null where things are kept. */
  readonly fault: StorageFault | null;
  readonly newer: Shelf['newer'];
  readonly setAside: Shelf['setAside'];
  readonly unreadable: number;
  readonly persistence: Persistence;
  /** Milliseconds since 1970; null where everything was never saved to a backup file. */
  readonly backedUpAt: number | null;
}

/** The lessons kept here, the last changed first; null until they have been read. */
export const $lessons = atom<readonly LessonSummary[] | null>(null);

export const $shelf = atom<ShelfState>({
  fault: null,
  newer: [],
  setAside: [],
  unreadable: 0,
  persistence: 'unknown',
  backedUpAt: null,
});

let opening: Promise<LessonStore> | undefined;

/** The store, opened when it is first asked for. */
export function lessonStore(): Promise<LessonStore> {
  opening ??= openLessonStore().then((store) => {
    // a list that nobody looks at is read when it is shown
    store.hear(() => {
      if ($lessons.lc > 0) void readAgain();
    });
    return store;
  });
  return opening;
}

const summaries = new Map<string, { readonly of: StoredLesson; readonly summary: LessonSummary }>();

/** The chart's text out of a document that was validated when it was read. */
function chartTextOf(document: string): string {
  return (JSON.parse(document) as { readonly chart: string }).chart;
}

function summaryOf(stored: StoredLesson): LessonSummary {
  const known = summaries.get(stored.id);
  if (known?.of === stored) return known.summary;
  const { id, createdAt, changedAt, revision } = stored;
  const chartText = chartTextOf(stored.document);
  const { title, key, tempoBpm } = headingOf(chartText);
  const summary = {
    id,
    title,
    chartText,
    key,
    tempoBpm,
    firstBars: firstBars(chartText),
    createdAt,
    changedAt,
    revision,
  };
  summaries.set(id, { of: stored, summary });
  return summary;
}

let asked = 0;
let newest: Promise<void> = Promise.resolve();

/** Reads what is kept, for the list. Afterwards the list is at least as new as the question. */
export async function readAgain(): Promise<void> {
  const number = ++asked;
  newest = readFor(number);
  await newest;
  // overtaken by a later question: its answer is the one that is shown
  if (number !== asked) await newest;
}

async function readFor(number: number): Promise<void> {
  const store = await lessonStore();
  const [read, promised, backedUpAt] = await Promise.all([store.list(), persistence(), store.backedUpAt()]);
  if (number !== asked) return;
  if (read.kind === 'fault') {
    $shelf.set({ ...$shelf.get(), fault: read.fault });
    $lessons.set($lessons.get() ?? []);
    return;
  }
  const { lessons, ...rest } = read.shelf;
  $shelf.set({ ...rest, fault: store.fault, persistence: promised, backedUpAt });
  $lessons.set(lessons.map(summaryOf));
}
