import 'fake-indexeddb/auto';
import { DEFAULT_CHOICES, readTake, writeLessonDocument, writeTake, type Take } from '@fivespan/core';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import type { TakeRecord, TakeStore } from '../../platform/storage/index.ts';

/** The shelf as it is when the page has just been opened, over an empty database. */
async function start() {
  vi.resetModules();
  vi.stubGlobal('addEventListener', () => undefined);
  return await import('./take-shelf.ts');
}

beforeEach(async () => {
  vi.spyOn(console, 'warn').mockReturnValue(undefined);
  await new Promise<void>((resolve) => {
    indexedDB.deleteDatabase('fivespan-takes').addEventListener('success', () => resolve());
  });
});

const head: Omit<Take, 'notes' | 'pedals'> = {
  engine: 1,
  lesson: 'ford',
  edition: 0,
  document: writeLessonDocument({ chartText: '| F |', choices: DEFAULT_CHOICES, engine: 1 }),
  programme: { tempoBpm: 120, key: null, countInBars: 1, isToClick: true },
  barOneMicros: 2_000_000,
  delayMs: 0,
};
const note = { startMicros: 2_000_000, durationMicros: 400_000, key: 60, velocity: 80, channel: 0 };
const [begun, whole] = [[], [note, note]].map((notes) => writeTake({ ...head, notes, pedals: [] })) as [string, string];

const record: TakeRecord = {
  id: 'mine',
  lessonId: 'ford',
  title: 'Ford',
  key: 'F major',
  tempoBpm: 120,
  at: 7,
  state: 'recording',
  isOffered: false,
  remarks: [],
  take: begun,
};

/** From now on nothing can be written: as Indexed Database API 3.0 has it. */
function fill(store: TakeStore): { readonly empty: () => void } {
  const no = (): Promise<never> => Promise.reject(new DOMException('no room', 'QuotaExceededError'));
  const spies = (['put', 'append', 'finish', 'changeAll'] as const).map((each) =>
    vi.spyOn(store, each).mockImplementation(no),
  );
  return { empty: () => spies.forEach((spy) => spy.mockRestore()) };
}

const notesIn = (take: string | undefined): number => {
  const read = readTake(take ?? '');
  return read.ok ? read.value.notes.length : -1;
};

describe('a disk that is full', () => {
  test('when a take ends: the whole of it is here, told as unwritten, and never called kept before it is', async () => {
    const app = await start();
    await app.beginTake(record);
    const store = await app.takeStore();
    const disk = fill(store);
    const ended: TakeRecord = { ...record, state: 'not kept', take: whole };
    await app.finishTake(ended);
    expect(app.$takes.get()).toEqual([ended]);
    expect(app.$unwritten.get()).toEqual(new Set(['mine']));
    await app.keepTake(ended);
    expect(app.$takes.get().map(({ state }) => state)).toEqual(['not kept']);
    await app.remarkAt('mine', 3, 'Listen.');
    expect(app.$takes.get()[0]?.remarks).toEqual([{ bar: 3, text: 'Listen.' }]);
    // room again: it is kept with all its notes and its remark, not what lay on the disk
    disk.empty();
    await app.keepTake(ended);
    expect(app.$unwritten.get().size).toBe(0);
    const kept = await store.one('mine');
    expect(kept).toMatchObject({ state: 'kept', remarks: [{ bar: 3, text: 'Listen.' }] });
    expect(notesIn(kept?.take)).toBe(2);
  });

  test('when a kept take gets a remark: the remark is here, told as unwritten, the take stays kept', async () => {
    const app = await start();
    await app.changeTakes([{ ...record, take: whole }], []);
    const disk = fill(await app.takeStore());
    await app.remarkAt('mine', 1, 'Softer.');
    expect(app.$takes.get()).toMatchObject([{ state: 'kept', remarks: [{ bar: 1, text: 'Softer.' }] }]);
    expect(app.$unwritten.get().size).toBe(1);
    disk.empty();
    await app.throwAway('mine');
    expect([app.$takes.get(), app.$unwritten.get().size]).toEqual([[], 0]);
  });

  test('when a take that was cut off is offered: it is offered all the same, with every note that was written', async () => {
    const before = await start();
    const store = await before.takeStore();
    await store.put(record);
    await store.append('mine', [
      [2_000_000, 1, 60, 80],
      [2_400_000, 2, 60, 0],
    ]);
    const storage = await import('../../platform/storage/index.ts');
    const app = await start();
    const fresh = await import('../../platform/storage/index.ts');
    expect(fresh).not.toBe(storage);
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('no room', 'QuotaExceededError');
    });
    await app.showTakes();
    vi.restoreAllMocks();
    expect(app.$cutOff.get().map(({ take }) => notesIn(take))).toEqual([1]);
    const [offered] = app.$cutOff.get();
    await app.keepTake(offered as TakeRecord);
    expect(await (await app.takeStore()).one('mine')).toMatchObject({ state: 'kept' });
    expect(app.$cutOff.get()).toEqual([]);
  });

  test('a file that is taken in and cannot be written is no take', async () => {
    const app = await start();
    fill(await app.takeStore());
    await expect(app.addTake({ ...record, take: whole })).rejects.toThrow('no room');
    expect(app.$takes.get()).toEqual([]);
  });
});
