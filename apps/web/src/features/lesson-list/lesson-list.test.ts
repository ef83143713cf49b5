import 'fake-indexeddb/auto';
import { readLessonDocument } from '@fivespan/core';
import { beforeEach, expect, test, vi } from 'vitest';
import type * as keptModule from '../open-lesson/kept.ts';

vi.mock('../../platform/workers/index.ts', () => ({ runJob: () => new Promise(() => undefined) }));

/** The feature as it is when the application has just been started, over an empty database. */
async function start() {
  vi.resetModules();
  vi.stubGlobal('addEventListener', () => undefined);
  const list = await import('./index.ts');
  const desk = await import('../open-lesson/index.ts');
  return { ...list, ...desk };
}

beforeEach(async () => {
  // Dexie says so when a database is deleted under it
  vi.spyOn(console, 'warn').mockReturnValue(undefined);
  // tabs of the test before close what they have open
  await new Promise<void>((resolve) => {
    indexedDB.deleteDatabase('fivespan').addEventListener('success', () => resolve());
  });
});

const titlesOf = (lessons: readonly { readonly title: string }[] | null): readonly string[] =>
  (lessons ?? []).map(({ title }) => title);

test('the first start puts the demo lesson there, also where the list is asked for meanwhile', async () => {
  const { startLessons, refreshLessons, $lessons } = await start();
  await Promise.all([startLessons(), refreshLessons(), refreshLessons()]);
  expect(titlesOf($lessons.get())).toEqual(['Lantern Street']);
});

test('a demo that was removed does not come back by itself', async () => {
  const first = await start();
  await first.startLessons();
  await first.removeLesson(first.$lessons.get()?.[0]?.id ?? '');
  const again = await start();
  await again.startLessons();
  expect(titlesOf(again.$lessons.get())).toEqual([]);
  expect(again.$isDemoHere.get()).toBe(false);
  await again.putDemoBack();
  expect(again.$isDemoHere.get()).toBe(true);
  await again.putDemoBack();
  expect(titlesOf(again.$lessons.get())).toEqual(['Lantern Street']);
});

test('the list shows what was changed on the desk a moment ago', async () => {
  const { createLesson, openStored, changeLesson, closeLesson, refreshLessons, $lessons } = await start();
  const { id } = await createLesson('title: Before\n| Fm7 |');
  await openStored(id);
  changeLesson({ chartText: 'title: After\nkey: Eb major\ntempo: 90\n| Fm7 | Bb7 |' });
  closeLesson();
  await refreshLessons();
  expect($lessons.get()).toMatchObject([
    { title: 'After', key: { mode: 'major' }, tempoBpm: 90, firstBars: [['Fm7'], ['Bb7']], revision: 2 },
  ]);
});

test('a lesson that is opened again at once is not read before its last change is kept', async () => {
  const { createLesson, openStored, changeLesson, closeLesson, flush, $open } = await start();
  const { id } = await createLesson('| Fm7 |');
  await openStored(id);
  changeLesson({ chartText: '| Bb7 |' });
  closeLesson();
  await openStored(id);
  expect($open.get()).toMatchObject({ chartText: '| Bb7 |', conflict: null });
  changeLesson({ chartText: '| Ebmaj7 |' });
  await flush();
  expect($open.get()).toMatchObject({ saving: 'saved', conflict: null });
});

test('of two lessons that are asked for at once, the later is on the desk', async () => {
  const { createLesson, openStored, closeLesson, $open } = await start();
  const one = await createLesson('title: One\n| Fm7 |');
  const other = await createLesson('title: Other\n| Fm7 |');
  await Promise.all([openStored(one.id), openStored(other.id)]);
  expect($open.get()?.id).toBe(other.id);
  const late = openStored(one.id);
  closeLesson();
  await late;
  expect($open.get()).toBeNull();
});

test('renaming changes the title line, and of a lesson with unkept changes the newest text', async () => {
  const { createLesson, openStored, changeLesson, closeLesson, renameLesson, lessonStore } = await start();
  const { id } = await createLesson('title: Old\r\n| Fm7 |\r\n');
  await openStored(id);
  changeLesson({ chartText: 'title: Old\r\n| Fm7 | Bb7 |\r\n' });
  closeLesson();
  expect(await renameLesson(id, ' New\nname ')).toMatchObject({ kind: 'written' });
  const read = await (await lessonStore()).read(id);
  const document = read.kind === 'read' ? readLessonDocument(read.stored.document) : undefined;
  expect(document?.ok === true && document.value.chartText).toBe('title: New name\r\n| Fm7 | Bb7 |\r\n');
});

test('what was removed can be put back, the last first', async () => {
  const { createLesson, removeLesson, putRemovedBack, $lessons, $removed } = await start();
  const one = await createLesson('title: One\n| Fm7 |');
  const other = await createLesson('title: Other\n| Bb7 |');
  await removeLesson(one.id);
  await removeLesson(other.id);
  expect(titlesOf($removed.get())).toEqual(['Other', 'One']);
  await putRemovedBack();
  expect(titlesOf($lessons.get())).toEqual(['Other']);
  await putRemovedBack();
  expect([...titlesOf($lessons.get())].sort()).toEqual(['One', 'Other']);
  expect($removed.get()).toEqual([]);
});

test('what was removed is put back beside another that came in its place, and where it cannot be, it waits', async () => {
  const { createLesson, removeLesson, putRemovedBack, lessonStore, $lessons, $removed } = await start();
  const { id } = await createLesson('title: Removed\n| Fm7 |');
  await removeLesson(id);
  const store = await lessonStore();
  const [removed] = $removed.get();
  const document = (removed?.document ?? '').replace('Fm7', 'Bb7').replace('Removed', 'Restored');
  await store.add({ id, title: 'Restored', document, createdAt: 1, changedAt: 1, revision: 1 });
  const add = vi.spyOn(store, 'add').mockResolvedValueOnce({ kind: 'fault', fault: { kind: 'full' } });
  expect(await putRemovedBack()).toMatchObject({ kind: 'fault' });
  expect(titlesOf($removed.get())).toEqual(['Removed']);
  add.mockRestore();
  expect(await putRemovedBack()).toMatchObject({ kind: 'written' });
  expect([...titlesOf($lessons.get())].sort()).toEqual(['Removed', 'Restored']);
  expect($removed.get()).toEqual([]);
});

test('a lesson that is not there, or damaged, is told apart', async () => {
  const { openStored, lessonStore, createLesson, $notOpened } = await start();
  expect(await openStored('nowhere')).toBeUndefined();
  const { id } = await createLesson('| Fm7 |');
  await new Promise<void>((resolve) => {
    const request = indexedDB.open('fivespan');
    request.addEventListener('success', () => {
      const change = request.result.transaction('lessons', 'readwrite');
      change.objectStore('lessons').put({ id, schema: 1, document: 'torn' });
      change.addEventListener('complete', () => {
        request.result.close();
        resolve();
      });
    });
  });
  expect(await openStored(id)).toMatchObject({ ok: false });
  expect($notOpened.get()).toMatchObject({ kind: 'damaged', id });
  const read = await (await lessonStore()).list();
  expect(read.kind === 'read' && read.shelf.setAside).toHaveLength(1);
});

test('a lesson over which something of ours fails is told, not opened for ever', async () => {
  vi.doMock('../open-lesson/kept.ts', async (original) => ({
    ...(await original<typeof keptModule>()),
    keptOf: (document: { readonly chartText: string }) => {
      if (document.chartText.includes('Torn')) throw new RangeError('Maximum call stack size exceeded');
      return { ...document, pinned: null };
    },
  }));
  try {
    const { openStored, createLesson, $notOpened, $open, $lessons } = await start();
    const { id } = await createLesson('title: Torn\n| Fm7 |');
    expect(await openStored(id)).toEqual({ ok: false, issues: [] });
    expect($notOpened.get()).toMatchObject({ kind: 'failed', message: 'Maximum call stack size exceeded', id });
    expect($open.get()).toBe(null);
    // it is still stored as it was, and others open
    expect(titlesOf($lessons.get())).toEqual(['Torn']);
    const other = await createLesson('title: Whole\n| Fm7 |');
    expect(await openStored(other.id)).toMatchObject({ ok: true });
    expect($notOpened.get()).toBe(null);
  } finally {
    vi.doUnmock('../open-lesson/kept.ts');
  }
});
