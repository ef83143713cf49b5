import { cutText, LONGEST_DOCUMENT_CHARACTERS, readLessonDocument } from '@fivespan/core';
import * as v from 'valibot';
import type { Damage } from './damage.ts';
import { migrateRecord, RECORD_MIGRATIONS, type RecordMigration } from './record-migrations.ts';

/** A lesson as it is kept on this machine. */
export interface StoredLesson {
  readonly id: string;
  /** For lists: the chart's title. */
  readonly title: string;
  /** The lesson file's text, byte for byte what `lesson.json` holds (core: writeLessonDocument). */
  readonly document: string;
  /** Milliseconds since 1970. */
  readonly createdAt: number;
  readonly changedAt: number;
  /** Rises by one with every write; a writer says which one it has read. */
  readonly revision: number;
}

/** What a writer has read: its revision alone does not say, a lesson out of a backup counts from the beginning. */
export type SeenLesson = Pick<StoredLesson, 'revision' | 'document'>;

/** Whether a lesson is still the one that was read. */
export function isAsSeen(lesson: SeenLesson, seen: SeenLesson | undefined): boolean {
  return lesson.revision === seen?.revision && lesson.document === seen.document;
}

/** Letters, digits and hyphens: what an address can hold. */
export const LESSON_ID = v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/u));

const moment = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(8.64e15));

/** What a record holds. */
export const STORED_LESSON = v.object({
  id: LESSON_ID,
  title: v.pipe(v.string(), v.maxLength(10_000)),
  document: v.pipe(v.string(), v.maxLength(LONGEST_DOCUMENT_CHARACTERS)),
  createdAt: moment,
  changedAt: moment,
  revision: v.pipe(v.number(), v.safeInteger(), v.minValue(1)),
});

/** What a record turned out to be. */
export type ReadRecord =
  | { readonly kind: 'lesson'; readonly lesson: StoredLesson; readonly isMigrated: boolean }
  // made by a newer version of this program: left as it is
  | { readonly kind: 'newer'; readonly id: string }
  | { readonly kind: 'damaged'; readonly damage: Damage };

/** Reads a record that lay in the database, and the document in it: nothing is trusted. */
export function readRecord(found: unknown, migrations: readonly RecordMigration[] = RECORD_MIGRATIONS): ReadRecord {
  const migrated = migrateRecord(found, migrations);
  const foundId = (found as { id?: unknown } | null)?.id;
  const id = typeof foundId === 'string' ? foundId : '';
  if (migrated.kind === 'damaged') return migrated;
  if (migrated.kind === 'newer') return { kind: 'newer', id };
  const parsed = v.safeParse(STORED_LESSON, migrated.record);
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return { kind: 'damaged', damage: { kind: 'field', field: v.getDotPath(issue) ?? '' } };
  }
  const document = readLessonDocument(parsed.output.document);
  if (!document.ok) {
    const [issue] = document.issues;
    if (issue?.code === 'lesson.newer') return { kind: 'newer', id };
    return { kind: 'damaged', damage: { kind: 'document', issues: document.issues } };
  }
  return { kind: 'lesson', lesson: parsed.output, isMigrated: migrated.isChanged };
}

/** What can be saved of a record as it was found: the document's text where there is one, else all of it. */
export function textOfRecord(found: unknown): string {
  const document = (found as { document?: unknown } | null)?.document;
  return typeof document === 'string' ? document : `${JSON.stringify(found, null, 2)}\n`;
}

/** A name for a record as it was found, for lists. */
export function titleOfRecord(found: unknown): string {
  const title = (found as { title?: unknown } | null)?.title;
  return typeof title === 'string' ? cutText(title, 200) : '';
}
