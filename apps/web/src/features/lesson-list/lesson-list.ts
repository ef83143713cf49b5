import { DEFAULT_CHOICES, ENGINE_VERSION, readLessonDocument, writeLessonDocument, type Choices } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import demoChart from '../../../../../examples/DEMO.chart?raw';
import { newId } from '../../platform/clock/index.ts';
import { noteMishap } from '../../platform/diagnostics/index.ts';
import { fileNameOf, saveFile } from '../../platform/files/index.ts';
import {
  askToPersist,
  freshLesson,
  guardLeaving,
  recordsAsFound,
  type LessonStore,
  type ReadOutcome,
  type StoredLesson,
  type WriteOutcome,
} from '../../platform/storage/index.ts';
import {
  $open,
  closeLesson,
  deskTurn,
  flush,
  headingOf,
  isAnythingUnkept,
  openLesson,
  takeUpUnkept,
  withTitle,
} from '../open-lesson/index.ts';
import { changeSettings } from '../settings/index.ts';
import { withCopy } from './arrange.ts';
import { $lessons, lessonStore, readAgain } from './shelf.ts';

/** The demo lesson's chart, as the examples have it. */
export const DEMO_CHART: string = demoChart;

/** A chart to begin with: eight bars in which nothing is written yet. Its key is found from what will be. */
export const EMPTY_CHART = `title: New lesson
meter: 4/4
tempo: 120
feel: swing

A:
| N.C. | N.C. | N.C. | N.C. |
| N.C. | N.C. | N.C. | N.C. |
`;

/** Lessons that were removed since the page was opened, the last one first: they can be put back. */
export const $removed = atom<readonly StoredLesson[]>([]);

/** Why a lesson could not be opened; null where nothing stands in the way. */
export type NotOpened =
  | Exclude<ReadOutcome, { kind: 'read' } | { kind: 'missing' }>
  // something of ours failed on it; it is still stored as it was
  | { readonly kind: 'failed'; readonly message: string };
export const $notOpened = atom<(NotOpened & { readonly id: string }) | null>(null);

function lessonOf(chartText: string, choices: Choices): StoredLesson {
  const document = writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION });
  return freshLesson(headingOf(chartText).title, document);
}

/** Reads the list anew, with what was changed on the desk a moment ago. */
export async function refreshLessons(): Promise<void> {
  await flush();
  await readAgain();
}

/** Reads what is kept; where nothing ever was, the demo lesson is put there. Called once, when the application starts. */
export async function startLessons(): Promise<void> {
  const store = await lessonStore();
  guardLeaving(() => isAnythingUnkept() || store.wouldLose);
  await store.addOnce('demo', lessonOf(DEMO_CHART, DEFAULT_CHOICES));
  await readAgain();
}

/**
 * Keeps a new lesson.
 * @returns its id, and what became of the write
 */
export async function createLesson(
  chartText: string,
  choices: Choices = DEFAULT_CHOICES,
): Promise<{ readonly id: string; readonly outcome: WriteOutcome }> {
  const store = await lessonStore();
  const lesson = lessonOf(chartText, choices);
  const outcome = await store.add(lesson);
  // once something of one's own is kept here, the browser is asked not to clear it
  if (outcome.kind === 'written') void askToPersist().then(readAgain);
  await readAgain();
  return { id: lesson.id, outcome };
}

/** Whether the demo lesson is here, as it was put. */
export const $isDemoHere = computed(
  $lessons,
  (lessons) => lessons?.some(({ chartText }) => chartText === DEMO_CHART) === true,
);

/** The id and title of a kept lesson with this chart and these choices; undefined where there is none. */
export async function sameLesson(
  chartText: string,
  choices: Choices,
): Promise<{ readonly id: string; readonly title: string } | undefined> {
  await flush();
  const read = await (await lessonStore()).list();
  const { document, title } = lessonOf(chartText, choices);
  const same = read.kind === 'read' ? read.shelf.lessons.find((each) => each.document === document) : undefined;
  return same === undefined ? undefined : { id: same.id, title };
}

/** Takes a new lesson away again in which nothing was written. Call when it is left. */
export async function dropUntouched(id: string): Promise<void> {
  await flush();
  const store = await lessonStore();
  const read = await store.read(id);
  // someone has gone back to it
  if ($open.get()?.id === id || read.kind !== 'read') return;
  if (read.stored.revision !== 1 || read.stored.document !== lessonOf(EMPTY_CHART, DEFAULT_CHOICES).document) return;
  await store.remove(id);
  await readAgain();
}

/** Puts the demo lesson back. @returns the id of the one there is, where it is as it was */
export async function putDemoBack(): Promise<{ readonly id: string; readonly outcome: WriteOutcome }> {
  const read = await (await lessonStore()).list();
  const { document } = lessonOf(DEMO_CHART, DEFAULT_CHOICES);
  const same = read.kind === 'read' ? read.shelf.lessons.find((each) => each.document === document) : undefined;
  if (same === undefined) return await createLesson(DEMO_CHART);
  return { id: same.id, outcome: { kind: 'written', revision: same.revision } };
}

/**
 * Puts a kept lesson on the desk.
 * @returns undefined where there is none of that id. Where it cannot be opened, `$notOpened` says why
 */
export async function openStored(id: string): Promise<ReturnType<typeof openLesson> | undefined> {
  $notOpened.set(null);
  closeLesson();
  const turn = deskTurn();
  const store = await lessonStore();
  // what was changed when it was open before may still be on its way to the disk
  await flush();
  if (turn !== deskTurn() || takeUpUnkept(store, id)) return { ok: false, issues: [] };
  const read = await store.read(id);
  // something else was opened meanwhile, or nothing is wanted any more
  if (turn !== deskTurn()) return { ok: false, issues: [] };
  if (read.kind === 'missing') return undefined;
  if (read.kind === 'read') {
    changeSettings({ lastLesson: id });
    return putOnDesk(store, read.stored);
  }
  $notOpened.set({ ...read, id });
  void readAgain();
  return { ok: false, issues: [] };
}

/** Opens a lesson that was read. A failure is reported: nobody is left before a screen that goes on opening. */
function putOnDesk(store: LessonStore, stored: StoredLesson): ReturnType<typeof openLesson> {
  const { id } = stored;
  try {
    const opened = openLesson(store, stored);
    if (!opened.ok) $notOpened.set({ kind: 'damaged', damage: { kind: 'document', issues: opened.issues }, id });
    return opened;
  } catch (error) {
    noteMishap(error);
    closeLesson();
    $notOpened.set({ kind: 'failed', message: error instanceof Error ? error.message : String(error), id });
    return { ok: false, issues: [] };
  }
}

/** How often a change is tried on what another tab wrote meanwhile. */
const MOST_TRIES = 5;

/** Changes the text of a kept lesson, on what is kept when it is written. */
async function changeText(
  store: LessonStore,
  id: string,
  change: (chartText: string) => string,
): Promise<WriteOutcome | ReadOutcome> {
  await flush();
  let outcome: WriteOutcome | ReadOutcome = { kind: 'missing' };
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const read = await store.read(id);
    if (read.kind !== 'read') return read;
    const document = readLessonDocument(read.stored.document);
    if (!document.ok) return { kind: 'missing' };
    const chartText = change(document.value.chartText);
    outcome = await store.write(id, read.stored, {
      title: headingOf(chartText).title,
      document: writeLessonDocument({ ...document.value, chartText }),
    });
    if (outcome.kind !== 'overtaken') break;
  }
  return outcome;
}

/** Gives a lesson another title: its chart's `title:` line changes, the rest stays byte for byte. */
export async function renameLesson(id: string, title: string): Promise<WriteOutcome | ReadOutcome> {
  const outcome = await changeText(await lessonStore(), id, (text) => withTitle(text, title));
  await readAgain();
  return outcome;
}

/** Keeps the same lesson a second time. @param titleOf the copy's title, of the lesson's */
export async function duplicateLesson(
  id: string,
  titleOf: (title: string) => string,
): Promise<{ readonly id: string; readonly outcome: WriteOutcome } | undefined> {
  await flush();
  const store = await lessonStore();
  const read = await store.read(id);
  if (read.kind !== 'read') return undefined;
  const document = readLessonDocument(read.stored.document);
  if (!document.ok) return undefined;
  const chartText = withTitle(document.value.chartText, titleOf(headingOf(document.value.chartText).title));
  const copy = freshLesson(headingOf(chartText).title, writeLessonDocument({ ...document.value, chartText }));
  const outcome = await store.add(copy);
  if (outcome.kind === 'written') await store.arrange((now) => withCopy(now, id, copy.id));
  await readAgain();
  return { id: copy.id, outcome };
}

/** Removes a lesson; it can be put back as long as the page is open. @returns whether it could be done */
export async function removeLesson(id: string): Promise<boolean> {
  await flush();
  const removed = await (await lessonStore()).remove(id);
  if (removed.kind === 'removed' && removed.stored !== undefined) $removed.set([removed.stored, ...$removed.get()]);
  await readAgain();
  return removed.kind === 'removed';
}

/** Puts the lesson back that was removed last, or the one of an id. */
export async function putRemovedBack(id = $removed.get()[0]?.id): Promise<WriteOutcome | undefined> {
  const stored = $removed.get().find((each) => each.id === id);
  if (stored === undefined) return undefined;
  const store = await lessonStore();
  // later than what other tabs have read
  let outcome = await store.add({ ...stored, revision: stored.revision + 1 });
  // another came in its place, out of a backup perhaps
  if (outcome.kind === 'overtaken' && outcome.stored?.document !== stored.document) {
    outcome = await store.add({ ...stored, id: newId(), revision: 1 });
  }
  if (outcome.kind !== 'fault') $removed.set($removed.get().filter((each) => each !== stored));
  await readAgain();
  return outcome;
}

/** Drops a record that was set aside. */
export async function dropSetAside(number: number): Promise<void> {
  await (await lessonStore()).dropSetAside(number);
  await readAgain();
}

/** Saves a kept lesson as a file of its own. @returns whether it is there to be saved */
export async function saveKept(id: string): Promise<boolean> {
  await flush();
  const read = await (await lessonStore()).read(id);
  if (read.kind !== 'read') return false;
  const { title, document } = read.stored;
  saveFile(`${fileNameOf(title, 'lesson')}.lesson.json`, document, 'application/json');
  return true;
}

/** Saves a text that this program cannot use as a file, as it was found. */
export function saveAsFound(name: string, text: string): void {
  saveFile(`${fileNameOf(name, 'lesson')}.json`, text, 'application/json');
}

/** Saves everything in a database of a newer version as one file, as it was found. */
export async function saveNewerAsFound(name: string): Promise<void> {
  saveAsFound(name, `${JSON.stringify(await recordsAsFound('fivespan'), null, 2)}\n`);
}
