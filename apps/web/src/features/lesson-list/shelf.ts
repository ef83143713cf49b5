import { parseKey, shownKey, type Key } from '@fivespan/core';
import { atom } from 'nanostores';
import {
  openLessonStore,
  persistence,
  PLAIN_ARRANGEMENT,
  type LessonStore,
  type Persistence,
  type Shelf,
  type ShelfArrangement,
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
  /** The lesson file's text, as it is kept. */
  readonly document: string;
  /** The one it is shown in, as far as it is stated; null where the chart states none. */
  readonly key: Key | null;
  readonly tempoBpm: number | null;
  /** The symbols of the first bars, to know a tune by. */
  readonly firstBars: readonly (readonly string[])[];
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
  readonly arrangement: ShelfArrangement;
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
  arrangement: PLAIN_ARRANGEMENT,
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

/** What a list needs out of a document that was validated when it was read. */
function outOf(document: string): { readonly chartText: string; readonly shownIn: Key | null } {
  const { chart, choices } = JSON.parse(document) as { chart: string; choices?: { shownIn?: string | null } };
  return { chartText: chart, shownIn: parseKey(choices?.shownIn ?? '') ?? null };
}

function summaryOf(stored: StoredLesson): LessonSummary {
  const known = summaries.get(stored.id);
  if (known?.of === stored) return known.summary;
  const { id, createdAt, changedAt, revision } = stored;
  const { chartText, shownIn } = outOf(stored.document);
  const { title, key, tempoBpm } = headingOf(chartText);
  const summary = {
    id,
    title,
    chartText,
    document: stored.document,
    key: shownKey({ key }, { shownIn }),
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
  const [read, promised, backedUpAt, arrangement] = await Promise.all([
    store.list(),
    persistence(),
    store.backedUpAt(),
    store.arrangement(),
  ]);
  if (number !== asked) return;
  if (read.kind === 'fault') {
    $shelf.set({ ...$shelf.get(), fault: read.fault });
    $lessons.set($lessons.get() ?? []);
    return;
  }
  const { lessons, ...rest } = read.shelf;
  $shelf.set({ ...rest, fault: store.fault, persistence: promised, backedUpAt, arrangement });
  $lessons.set(lessons.map(summaryOf));
}
