import type { Damage } from './damage.ts';

/** A record as it was found: nothing is known of it but that it is an object. */
export type FoundRecord = Readonly<Record<string, unknown>>;

/** Makes a record of the next version out of one. Given what was found, it may throw; the record then counts as damaged. */
export type RecordMigration = (record: FoundRecord) => FoundRecord;

/**
 * The steps from each version of a lesson's record to the next: the first leads from 1 to 2. A step that was once published is
 * never changed. There is none yet: 1 is the newest.
 */
export const RECORD_MIGRATIONS: readonly RecordMigration[] = [];

/** What became of a record that was brought to the newest version. */
export type Migrated =
  | { readonly kind: 'newest'; readonly record: FoundRecord; readonly isChanged: boolean }
  | { readonly kind: 'newer'; readonly version: number }
  | { readonly kind: 'damaged'; readonly damage: Damage };

/**
 * Brings a record to the newest version, one step at a time.
 * @param found what lay in the database; `schema` holds its version
 * @param migrations step n leads from version n + 1 to n + 2
 */
export function migrateRecord(found: unknown, migrations = RECORD_MIGRATIONS): Migrated {
  const newest = migrations.length + 1;
  if (typeof found !== 'object' || found === null) return { kind: 'damaged', damage: { kind: 'no record' } };
  let record = found as FoundRecord;
  const { schema } = record;
  if (typeof schema !== 'number' || !Number.isInteger(schema) || schema < 1) {
    return { kind: 'damaged', damage: { kind: 'no version' } };
  }
  if (schema > newest) return { kind: 'newer', version: schema };
  try {
    for (const [index, step] of migrations.slice(schema - 1).entries()) {
      record = { ...step(record), schema: schema + index + 1 };
    }
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return { kind: 'damaged', damage: { kind: 'not migrated', message } };
  }
  return { kind: 'newest', record, isChanged: schema < newest };
}
