import { LONGEST_DOCUMENT_CHARACTERS, messageOf, readLessonDocument } from '@fivespan/core';
import * as v from 'valibot';
import type { StoredLesson } from '../../platform/storage/index.ts';
// the file itself: through the index a worker would load the database too
import { headingOf } from '../open-lesson/heading.ts';

/** What a backup file says it is, in its first field. */
export const BACKUP_KIND = 'fivespan backup';

/** Newest version of the backup file that this program writes. */
const BACKUP_VERSION = 1;

/** More lessons than a teacher's life has. */
const MOST_LESSONS = 100_000;

/** The largest backup file that is read, and so the largest that is written: what is more goes into another. */
export const LARGEST_BACKUP_BYTES = 50_000_000;

const moment = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(8.64e15));
const text = v.pipe(v.string(), v.maxLength(LONGEST_DOCUMENT_CHARACTERS));

const LESSON = v.object({
  id: v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/u, 'must be letters, digits and hyphens')),
  title: v.pipe(v.string(), v.maxLength(10_000)),
  createdAt: moment,
  changedAt: moment,
  document: text,
});

const VERSION_1 = v.object({
  kind: v.literal(BACKUP_KIND),
  version: v.literal(1),
  lessons: v.pipe(v.array(v.unknown()), v.maxLength(MOST_LESSONS)),
});

/** A lesson out of a backup file: validated. */
export type BackedUpLesson = Omit<StoredLesson, 'revision'>;

/** What a backup file holds. */
export interface Backup {
  readonly lessons: readonly BackedUpLesson[];
  /** What in it cannot be used, and why; the rest is. */
  readonly unusable: readonly { readonly title: string; readonly reason: string }[];
}

export type ReadBackup =
  | { readonly kind: 'backup'; readonly backup: Backup }
  | { readonly kind: 'newer'; readonly version: number }
  | { readonly kind: 'damaged'; readonly reason: string };

/** Room for what stands round the lessons of a file, and for each between them. */
const BYTES_AROUND = 200;
const BYTES_BETWEEN = 100;

/**
 * Everything kept as the text of one file, or of several where it would be larger than one that is read back: each lesson's
 * document as it is, byte for byte.
 */
export function writeBackup(
  lessons: readonly BackedUpLesson[],
  largestBytes = LARGEST_BACKUP_BYTES,
): readonly string[] {
  const sorted = [...lessons].sort((a, b) => a.createdAt - b.createdAt || (a.id < b.id ? -1 : 1));
  const files: object[][] = [[]];
  let bytes = BYTES_AROUND;
  for (const { id, title, createdAt, changedAt, document } of sorted) {
    const written = { id, title, createdAt, changedAt, document };
    const more = new TextEncoder().encode(JSON.stringify(written)).length + BYTES_BETWEEN;
    if (bytes > BYTES_AROUND && (bytes + more > largestBytes || files.at(-1)?.length === MOST_LESSONS)) {
      files.push([]);
      bytes = BYTES_AROUND;
    }
    files.at(-1)?.push(written);
    bytes += more;
  }
  return files.map(
    (each) => `${JSON.stringify({ kind: BACKUP_KIND, version: BACKUP_VERSION, lessons: each }, null, 2)}\n`,
  );
}

function readLesson(found: unknown): BackedUpLesson | string {
  const parsed = v.safeParse(LESSON, found);
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return `${v.getDotPath(issue) ?? 'the lesson'}: ${issue.message}`;
  }
  const document = readLessonDocument(parsed.output.document);
  if (!document.ok) return document.issues.map(messageOf).join('; ');
  return { ...parsed.output, title: headingOf(document.value.chartText).title };
}

/** Reads a backup file from outside. Lessons that cannot be used are named; the others come through. */
export function readBackup(fileText: string): ReadBackup {
  let raw: unknown;
  try {
    raw = JSON.parse(fileText);
  } catch {
    return { kind: 'damaged', reason: 'it is not JSON from beginning to end' };
  }
  const version = v.safeParse(v.object({ kind: v.literal(BACKUP_KIND), version: v.number() }), raw);
  if (version.success && version.output.version > BACKUP_VERSION) {
    return { kind: 'newer', version: version.output.version };
  }
  const parsed = v.safeParse(VERSION_1, raw);
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return { kind: 'damaged', reason: `${v.getDotPath(issue) ?? 'the file'}: ${issue.message}` };
  }
  const lessons = new Map<string, BackedUpLesson>();
  const unusable: { title: string; reason: string }[] = [];
  for (const found of parsed.output.lessons) {
    const read = readLesson(found);
    if (typeof read === 'string' || lessons.has(read.id)) {
      const title = (found as { title?: unknown } | null)?.title;
      const reason = typeof read === 'string' ? read : 'another lesson in the file has its id';
      unusable.push({ title: typeof title === 'string' ? title.slice(0, 200) : '', reason });
    } else {
      lessons.set(read.id, read);
    }
  }
  return { kind: 'backup', backup: { lessons: [...lessons.values()], unusable } };
}
