import 'fake-indexeddb/auto';
import { Dexie } from 'dexie';
import { describe, expect, test } from 'vitest';
import type { TakeRecord } from './take-record.ts';
import { openTakeStore } from './take-store.ts';

const record: TakeRecord = {
  id: 'first',
  lessonId: 'ford',
  title: 'Ford',
  key: 'F major',
  tempoBpm: 120,
  at: 1_000,
  state: 'recording',
  isOffered: false,
  remarks: [{ bar: 3, text: 'Listen to the third.' }],
  take: '{}',
};

let last = 0;
const fresh = (): string => `takes-${++last}`;

describe('takes on the disk', () => {
  test('what is added piece by piece is there in its order, also for who opens anew; a whole take needs none of it', async () => {
    const name = fresh();
    const store = await openTakeStore(name);
    await store.put(record);
    for (let piece = 0; piece < 12; piece++) await store.append('first', [[piece, 1, 60, 80]]);
    await store.append('other', [[0, 1, 61, 80]]);
    const again = await openTakeStore(name);
    expect((await again.appended('first')).map(([at]) => at)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(await again.one('first')).toEqual(record);
    await again.finish({ ...record, state: 'not kept' });
    expect(await again.appended('first')).toEqual([]);
    expect((await again.appended('other')).length).toBe(1);
  });
  test('thrown away, nothing of it is left', async () => {
    const name = fresh();
    const store = await openTakeStore(name);
    await store.put(record);
    await store.append('first', [[0, 1, 60, 80]]);
    await store.remove(['first']);
    expect(await store.all()).toEqual([]);
    expect(await store.appended('first')).toEqual([]);
  });
  test('what is damaged is passed over and stays', async () => {
    const name = fresh();
    const store = await openTakeStore(name);
    await store.put(record);
    const tables = new Dexie(name);
    await tables.open();
    await tables.table('takes').bulkPut([{ id: 'x', title: 3 }, { id: '../y' }, { ...record, id: 'second', at: 500 }]);
    await tables.table('pieces').bulkPut([{ number: 99, takeId: 'first', events: 'none' }]);
    tables.close();
    expect((await store.all()).map(({ id }) => id)).toEqual(['second', 'first']);
    expect(await store.one('x')).toBeNull();
    expect(await store.appended('first')).toEqual([]);
  });
});
