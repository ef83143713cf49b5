import { expect, test } from 'vitest';
import { migrateRecord, type RecordMigration } from './record-migrations.ts';

/** Invented: version 1 called the title `name`, version 2 had no revision. */
const STEPS: readonly RecordMigration[] = [
  ({ name, ...rest }) => {
    if (typeof name !== 'string') throw new Error('name: must be text');
    return { ...rest, title: name };
  },
  (record) => ({ ...record, revision: 1 }),
];

test('an old record rises one version at a time', () => {
  expect(migrateRecord({ schema: 1, id: 'a', name: 'Old' }, STEPS)).toEqual({
    kind: 'newest',
    isChanged: true,
    record: { schema: 3, id: 'a', title: 'Old', revision: 1 },
  });
  expect(migrateRecord({ schema: 2, id: 'a', title: 'Middle' }, STEPS)).toMatchObject({
    record: { schema: 3, title: 'Middle', revision: 1 },
  });
});

test('a record of the newest version stays as it is', () => {
  const record = { schema: 3, id: 'a' };
  expect(migrateRecord(record, STEPS)).toEqual({ kind: 'newest', isChanged: false, record });
  expect(migrateRecord({ schema: 1 })).toMatchObject({ kind: 'newest', isChanged: false });
});

test('a newer one is not touched; what is no record of any version is damaged', () => {
  expect(migrateRecord({ schema: 4 }, STEPS)).toEqual({ kind: 'newer', version: 4 });
  for (const found of [undefined, null, 7, {}, { schema: 0 }, { schema: 1.5 }, { schema: '1' }]) {
    expect(migrateRecord(found, STEPS).kind).toBe('damaged');
  }
  expect(migrateRecord({ schema: 1 }, STEPS)).toEqual({
    kind: 'damaged',
    damage: { kind: 'not migrated', message: 'name: must be text' },
  });
  expect(migrateRecord({ schema: '1' }, STEPS)).toEqual({ kind: 'damaged', damage: { kind: 'no version' } });
});
