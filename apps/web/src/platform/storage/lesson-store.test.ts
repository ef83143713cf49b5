import 'fake-indexeddb/auto';
import { DEFAULT_CHOICES, DOCUMENT_VERSION, writeLessonDocument } from '@fivespan/core';
import { describe, expect, test, vi } from 'vitest';
import { LessonDatabase, recordsAsFound } from './lesson-database.ts';
import type { LessonNews, NewsChannel } from './lesson-news.ts';
import { LessonStore, openLessonStore } from './lesson-store.ts';
import { memoryRecords } from './memory-records.ts';
import type { Records } from './records.ts';
import type { StoredLesson } from './stored-lesson.ts';

let names = 0;
const freshName = (): string => `test ${++names}`;

const documentOf = (title: string): string =>
  writeLessonDocument({ chartText: `title: ${title}\n| Fm7 | Bb7 |\n`, choices: DEFAULT_CHOICES, engine: 1 });

const lessonOf = (id: string, title = id): StoredLesson => ({
  id,
  title,
  document: documentOf(title),
  createdAt: 1,
  changedAt: 1,
  revision: 1,
});

/** Puts records into a database as another program might have. */
async function putRaw(name: string, ...records: object[]): Promise<void> {
  const database = new LessonDatabase(name);
  await database.change(async (inside) => {
    for (const record of records) await inside.put(record as { id: string });
  });
  database.close();
}

/** A channel that writes down every message. */
function spyChannel(): NewsChannel & { readonly told: LessonNews[] } {
  const told: LessonNews[] = [];
  return { told, tell: (news) => told.push(news), hear: () => () => undefined };
}

async function shelfOf(store: LessonStore) {
  const read = await store.list();
  if (read.kind !== 'read') throw new Error(JSON.stringify(read.fault));
  return read.shelf;
}

/** The same must hold on the disk and in memory. */
const PLACES = [
  ['on the disk', () => openLessonStore(freshName())],
  ['in memory', () => Promise.resolve(new LessonStore(memoryRecords(), spyChannel()))],
] as const;

describe.each(PLACES)('lessons kept %s', (_place, open) => {
  test('what was added is read back, and listed', async () => {
    const store = await open();
    expect(await store.add(lessonOf('a', 'Lantern Street'))).toEqual({ kind: 'written', revision: 1 });
    expect(await store.read('a')).toEqual({ kind: 'read', stored: lessonOf('a', 'Lantern Street') });
    expect((await shelfOf(store)).lessons).toHaveLength(1);
    expect(await store.read('b')).toEqual({ kind: 'missing' });
  });

  test('a write over a revision that was not read writes nothing', async () => {
    const store = await open();
    await store.add(lessonOf('a'));
    const mine = { title: 'mine', document: documentOf('mine') };
    const theirs = { title: 'theirs', document: documentOf('theirs') };
    expect(await store.write('a', lessonOf('a'), theirs)).toEqual({ kind: 'written', revision: 2 });
    const outcome = await store.write('a', lessonOf('a'), mine);
    expect(outcome).toMatchObject({ kind: 'overtaken', stored: { title: 'theirs', revision: 2 } });
    expect(await store.read('a')).toMatchObject({ stored: { title: 'theirs', revision: 2 } });
  });

  test('a write to a removed lesson does not bring it back', async () => {
    const store = await open();
    await store.add(lessonOf('a'));
    expect(await store.remove('a')).toEqual({ kind: 'removed', stored: lessonOf('a') });
    expect(await store.write('a', lessonOf('a'), { title: '', document: documentOf('') })).toEqual({
      kind: 'overtaken',
      stored: undefined,
    });
    expect((await shelfOf(store)).lessons).toEqual([]);
  });

  test('an id that is taken is not written over', async () => {
    const store = await open();
    await store.add(lessonOf('a', 'first'));
    expect(await store.add(lessonOf('a', 'second'))).toMatchObject({ kind: 'overtaken' });
    expect(await store.read('a')).toMatchObject({ stored: { title: 'first' } });
  });

  test('what could not be read back is never written', async () => {
    const store = await open();
    await store.add(lessonOf('a'));
    expect(await store.write('a', lessonOf('a'), { title: '', document: '{}' })).toMatchObject({ kind: 'fault' });
    const long = documentOf('x'.repeat(2_000_000));
    expect(await store.write('a', lessonOf('a'), { title: '', document: long })).toEqual({
      kind: 'fault',
      fault: { kind: 'too-large' },
    });
    expect(await store.read('a')).toEqual({ kind: 'read', stored: lessonOf('a') });
  });

  test('many changes are made as a whole, or not where something has changed since', async () => {
    const store = await open();
    await store.add(lessonOf('a'));
    await store.add(lessonOf('b'));
    const seen = (await shelfOf(store)).lessons;
    await store.write('b', lessonOf('b'), { title: 'b2', document: documentOf('b2') });
    const change = { put: [lessonOf('c')], remove: ['a'] };
    expect(await store.changeAll(change, seen)).toMatchObject({ kind: 'overtaken' });
    expect((await shelfOf(store)).lessons.map(({ id }) => id).sort()).toEqual(['a', 'b']);
    expect(await store.changeAll(change, (await shelfOf(store)).lessons)).toMatchObject({ kind: 'written' });
    expect((await shelfOf(store)).lessons.map(({ id }) => id).sort()).toEqual(['b', 'c']);
  });

  test('a lesson that was removed and put back with another content is not what was read', async () => {
    const store = await open();
    await store.add(lessonOf('a', 'read'));
    const seen = (await shelfOf(store)).lessons;
    await store.remove('a');
    await store.add(lessonOf('a', 'restored'));
    const change = { title: 'mine', document: documentOf('mine') };
    expect(await store.write('a', lessonOf('a', 'read'), change)).toMatchObject({
      kind: 'overtaken',
      stored: { title: 'restored' },
    });
    expect(await store.changeAll({ put: [lessonOf('a', 'mine')], remove: [] }, seen)).toMatchObject({
      kind: 'overtaken',
    });
    expect(await store.read('a')).toMatchObject({ stored: { title: 'restored' } });
  });

  test('the demo is put there once only', async () => {
    const store = await open();
    expect(await store.addOnce('demo', lessonOf('a'))).toBe(true);
    await store.remove('a');
    expect(await store.addOnce('demo', lessonOf('b'))).toBe(false);
    expect((await shelfOf(store)).lessons).toEqual([]);
  });
});

test('an old record is brought to the newest version where it lies', async () => {
  const name = freshName();
  const { title, ...rest } = lessonOf('a', 'Old');
  await putRaw(name, { schema: 1, ...rest, name: title });
  // invented: version 1 called the title `name`
  const steps = [({ name: old, ...record }: Readonly<Record<string, unknown>>) => ({ ...record, title: old })];
  const store = new LessonStore(new LessonDatabase(name), spyChannel(), null, steps);
  expect((await shelfOf(store)).lessons).toEqual([lessonOf('a', 'Old')]);
  expect(await recordsAsFound(name)).toEqual([{ schema: 2, ...lessonOf('a', 'Old') }]);
  expect(await store.write('a', lessonOf('a', 'Old'), { title: 'New', document: documentOf('New') })).toMatchObject({
    revision: 2,
  });
  expect(await recordsAsFound(name)).toMatchObject([{ schema: 2, title: 'New' }]);
});

test('what is written where nothing lasts would be lost; the demo would not', async () => {
  const store = new LessonStore(memoryRecords(), spyChannel(), { kind: 'refused' });
  await store.addOnce('demo', lessonOf('demo'));
  expect(store.wouldLose).toBe(false);
  await store.add(lessonOf('a'));
  expect(store.wouldLose).toBe(true);
});

test('two tabs that start together put one demo', async () => {
  const name = freshName();
  const [one, other] = await Promise.all([openLessonStore(name), openLessonStore(name)]);
  const done = await Promise.all([one.addOnce('demo', lessonOf('a')), other.addOnce('demo', lessonOf('b'))]);
  expect(done.filter(Boolean)).toHaveLength(1);
  expect((await shelfOf(one)).lessons).toHaveLength(1);
});

test('two tabs that write at once: one is written, the other is told', async () => {
  const name = freshName();
  const [one, other] = await Promise.all([openLessonStore(name), openLessonStore(name)]);
  await one.add(lessonOf('a'));
  const outcomes = await Promise.all([
    one.write('a', lessonOf('a'), { title: 'one', document: documentOf('one') }),
    other.write('a', lessonOf('a'), { title: 'other', document: documentOf('other') }),
  ]);
  expect(outcomes.map(({ kind }) => kind).sort()).toEqual(['overtaken', 'written']);
});

test('other tabs are told after a write, not of one that failed', async () => {
  const channel = spyChannel();
  const store = new LessonStore(new LessonDatabase(freshName()), channel);
  await store.add(lessonOf('a'));
  await store.write('a', { ...lessonOf('a'), revision: 7 }, { title: '', document: documentOf('') });
  await store.write('a', lessonOf('a'), { title: '', document: documentOf('') });
  await store.remove('a');
  expect(channel.told).toEqual([
    { kind: 'written', id: 'a', revision: 1 },
    { kind: 'written', id: 'a', revision: 2 },
    { kind: 'removed', id: 'a' },
  ]);
});

describe('damaged records', () => {
  const good = { schema: 1, ...lessonOf('good') };
  const damaged = [
    { schema: 1, ...lessonOf('half'), document: documentOf('half').slice(0, 100) },
    { schema: 1, ...lessonOf('number'), revision: 'x' },
    { id: 'nothing' },
    { schema: 'one', ...lessonOf('strange') },
  ];

  test('are set aside, not deleted, and the rest opens', async () => {
    const name = freshName();
    await putRaw(name, good, ...damaged);
    const store = await openLessonStore(name);
    const shelf = await shelfOf(store);
    expect(shelf.lessons.map(({ id }) => id)).toEqual(['good']);
    expect(shelf.setAside).toHaveLength(4);
    const half = shelf.setAside.find(({ title }) => title === 'half');
    // what can be saved is the document as it was found
    expect(half?.text).toBe(documentOf('half').slice(0, 100));
    // and what is wrong comes as codes, with the document reader's issues
    const damages = new Map(shelf.setAside.map(({ title, damage }) => [title, damage]));
    expect(damages.get('half')).toEqual({
      kind: 'document',
      // cut off in the middle of its chart
      issues: [{ code: 'lesson.not-json', args: {}, place: { line: 6, column: 5 } }],
    });
    expect(damages.get('number')).toEqual({ kind: 'field', field: 'revision' });
    expect(damages.get('strange')).toEqual({ kind: 'no version' });
    // and once more: they stay where they are
    const again = await openLessonStore(name);
    expect((await shelfOf(again)).setAside).toHaveLength(4);
    expect(await recordsAsFound(name)).toEqual([good]);
  });

  test('one that is opened by its address is set aside too', async () => {
    const name = freshName();
    await putRaw(name, ...damaged);
    const store = await openLessonStore(name);
    expect(await store.read('half')).toMatchObject({ kind: 'damaged' });
    expect(await store.read('half')).toEqual({ kind: 'missing' });
    const [first] = (await shelfOf(store)).setAside;
    await store.dropSetAside(first?.number ?? 0);
    expect((await shelfOf(store)).setAside).toHaveLength(3);
  });

  test('one that could not be set aside when it was found is, before a restored lesson is put in its place', async () => {
    const name = freshName();
    await putRaw(name, ...damaged.slice(0, 1));
    const database = new LessonDatabase(name);
    let isFull = true;
    const store = new LessonStore(
      {
        lessons: database.lessons,
        lesson: database.lesson,
        lessonOnDisk: database.lessonOnDisk,
        setAside: database.setAside,
        dropSetAside: database.dropSetAside,
        fact: database.fact,
        change: (work) =>
          database.change(async (inside) => {
            const full = async (): Promise<never> => {
              throw new DOMException('no room', 'QuotaExceededError');
            };
            return await work({ ...inside, setAside: isFull ? full : inside.setAside });
          }),
      },
      spyChannel(),
    );
    const seen = (await shelfOf(store)).lessons;
    expect(seen).toEqual([]);
    const change = { put: [lessonOf('half', 'restored')], remove: [] };
    // still full: nothing is put over it
    expect(await store.changeAll(change, seen)).toEqual({ kind: 'fault', fault: { kind: 'full' } });
    expect(await recordsAsFound(name)).toEqual(damaged.slice(0, 1));
    isFull = false;
    expect(await store.changeAll(change, seen)).toMatchObject({ kind: 'written' });
    const shelf = await shelfOf(store);
    expect(shelf.lessons).toMatchObject([{ title: 'restored' }]);
    expect(shelf.setAside.map(({ text }) => text)).toEqual([documentOf('half').slice(0, 100)]);
  });

  test('one that is open is not written over, but set aside first', async () => {
    const name = freshName();
    const store = await openLessonStore(name);
    await store.add(lessonOf('a'));
    await putRaw(name, { schema: 1, ...lessonOf('a'), document: 'x' });
    expect(await store.write('a', lessonOf('a'), { title: 'n', document: documentOf('n') })).toMatchObject({
      kind: 'written',
    });
    const shelf = await shelfOf(store);
    expect(shelf.setAside.map(({ text }) => text)).toEqual(['x']);
    expect(shelf.lessons).toMatchObject([{ title: 'n' }]);
  });
});

describe('what a newer version of the program has written', () => {
  test('a record is left as it is', async () => {
    const name = freshName();
    const record = { schema: 99, ...lessonOf('a'), unknown: [1] };
    await putRaw(name, record);
    const store = await openLessonStore(name);
    const shelf = await shelfOf(store);
    expect(shelf.newer).toEqual([{ title: 'a', text: documentOf('a') }]);
    expect(shelf.lessons).toEqual([]);
    expect(await store.read('a')).toMatchObject({ kind: 'newer', text: documentOf('a') });
    const newer = { kind: 'fault', fault: { kind: 'newer' } };
    expect(await store.write('a', lessonOf('a'), { title: '', document: documentOf('') })).toEqual(newer);
    expect(await store.add(lessonOf('a'))).toEqual(newer);
    expect(await store.remove('a')).toEqual(newer);
    expect(await recordsAsFound(name)).toEqual([record]);
  });

  test('a document is left as it is', async () => {
    const name = freshName();
    const document = documentOf('a').replace(`"version": ${DOCUMENT_VERSION}`, `"version": ${DOCUMENT_VERSION + 1}`);
    await putRaw(name, { schema: 1, ...lessonOf('a'), document });
    expect((await shelfOf(await openLessonStore(name))).newer).toEqual([{ title: 'a', text: document }]);
  });

  test('a database is not opened, and its records can still be had as they are', async () => {
    const name = freshName();
    await putRaw(name, { schema: 1, ...lessonOf('a') });
    await new Promise<void>((resolve) => {
      const request = indexedDB.open(name, 20);
      request.addEventListener('upgradeneeded', () => request.result.createObjectStore('more'));
      request.addEventListener('success', () => {
        request.result.close();
        resolve();
      });
    });
    const store = await openLessonStore(name);
    expect(store.fault).toEqual({ kind: 'newer' });
    // one can work, in memory
    expect(await store.add(lessonOf('b'))).toMatchObject({ kind: 'written' });
    expect(await recordsAsFound(name)).toMatchObject([{ id: 'a' }]);
    const version = await new Promise((resolve) => {
      const request = indexedDB.open(name);
      request.addEventListener('success', () => resolve(request.result.version));
    });
    expect(version).toBe(20);
  });

  test('where another tab brings a newer version, this one writes no more', async () => {
    const name = freshName();
    const store = await openLessonStore(name);
    await store.add(lessonOf('a'));
    await new Promise<void>((resolve) => {
      const request = indexedDB.open(name, 20);
      request.addEventListener('success', () => {
        request.result.close();
        resolve();
      });
    });
    expect(await store.write('a', lessonOf('a'), { title: '', document: documentOf('') })).toEqual({
      kind: 'fault',
      fault: { kind: 'newer' },
    });
  });
});

test('where the browser allows no storage, one works in memory and is told', async () => {
  const there = globalThis.indexedDB;
  try {
    Object.defineProperty(globalThis, 'indexedDB', { value: undefined, configurable: true });
    const store = await openLessonStore(freshName());
    expect(store.fault).toEqual({ kind: 'refused' });
    expect(await store.add(lessonOf('a'))).toMatchObject({ kind: 'written' });
    expect((await shelfOf(store)).lessons).toHaveLength(1);
  } finally {
    Object.defineProperty(globalThis, 'indexedDB', { value: there, configurable: true });
  }
});

test('where the browser does not open its storage in time, one works in memory and is told', async () => {
  vi.useFakeTimers();
  const open = vi.spyOn(LessonDatabase.prototype, 'open').mockReturnValue(new Promise(() => undefined));
  try {
    const opening = openLessonStore(freshName());
    await vi.advanceTimersByTimeAsync(10_000);
    expect((await opening).fault).toEqual({ kind: 'slow', seconds: 10 });
  } finally {
    open.mockRestore();
    vi.useRealTimers();
  }
});

test('a full disk is told, and nothing is written', async () => {
  const database = new LessonDatabase(freshName());
  const full = new LessonStore(
    {
      lessons: database.lessons,
      lesson: database.lesson,
      lessonOnDisk: database.lessonOnDisk,
      setAside: database.setAside,
      dropSetAside: database.dropSetAside,
      fact: database.fact,
      change: (work) =>
        database.change(
          async (inside) =>
            await work({
              ...inside,
              put: async () => {
                await Promise.reject(new DOMException('no room', 'QuotaExceededError'));
              },
            }),
        ),
    },
    spyChannel(),
  );
  expect(await full.add(lessonOf('a'))).toEqual({ kind: 'fault', fault: { kind: 'full' } });
  expect((await shelfOf(full)).lessons).toEqual([]);
});

describe('after the browser could not write', () => {
  /**
   * A browser whose disk is full: `fails` is thrown at a write's end; `forgets` gives the database of before when it is
   * opened anew.
   */
  function onFullDisk(name: string) {
    const database = new LessonDatabase(name);
    const disk = { fails: null as unknown, forgets: false };
    const records: Records = {
      lessons: database.lessons,
      lesson: database.lesson,
      lessonOnDisk: async (id) => (disk.forgets ? undefined : await database.lessonOnDisk(id)),
      setAside: database.setAside,
      dropSetAside: database.dropSetAside,
      fact: database.fact,
      change: async (work) => {
        // the work is done; what fails is the transaction's end
        if (disk.fails !== null) throw disk.fails;
        return await database.change(work);
      },
    };
    return { disk, store: new LessonStore(records, spyChannel()) };
  }

  test.each([
    ['the transaction aborted by quota', Object.assign(new Error('aborted'), { name: 'AbortError', inner: new DOMException('', 'QuotaExceededError') })], // prettier-ignore
    ['an abort that names it in words', Object.assign(new Error('QuotaExceededError: reached'), { name: 'AbortError' })], // prettier-ignore
    ['a file system without room', new DOMException('IO error: MANIFEST: No space left on device', 'UnknownError')],
  ])('%s is a full disk', async (_what, error) => {
    const { disk, store } = onFullDisk(freshName());
    disk.fails = error;
    expect(await store.add(lessonOf('a'))).toEqual({ kind: 'fault', fault: { kind: 'full' } });
    expect(store.isDoubtful).toBe(true);
  });

  test('what it acknowledges is believed when it was found in the database opened anew', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout'] });
    try {
      const { disk, store } = onFullDisk(freshName());
      expect(store.isDoubtful).toBe(false);
      disk.fails = new DOMException('', 'QuotaExceededError');
      await store.add(lessonOf('a'));
      disk.fails = null;
      expect(await store.add(lessonOf('a'))).toMatchObject({ kind: 'written' });
      expect(store.isDoubtful).toBe(true);
      disk.forgets = true;
      expect(await store.prove('a', lessonOf('a'))).toBe(false);
      disk.forgets = false;
      const proved = store.prove('a', lessonOf('a'));
      // the browser is given time to let go of what it holds
      await vi.advanceTimersByTimeAsync(3_000);
      expect(await proved).toBe(true);
      expect(store.isDoubtful).toBe(false);
      // another revision than the one that was written is no proof
      const other = store.prove('a', { ...lessonOf('a'), revision: 2 });
      await vi.advanceTimersByTimeAsync(3_000);
      expect(await other).toBe(false);
    } finally {
      vi.useRealTimers();
    }
  });
});
