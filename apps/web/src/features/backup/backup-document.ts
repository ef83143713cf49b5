import { cutText, LONGEST_DOCUMENT_CHARACTERS, readLessonDocument } from '@fivespan/core';
import * as v from 'valibot';
import type { Damage, StoredLesson } from '../../platform/storage/index.ts';
// the file itself: through the index a worker would load the database too
import { readArrangement, type ShelfArrangement } from '../../platform/storage/shelf-arrangement.ts';
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
  id: v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/u)),
  title: v.pipe(v.string(), v.maxLength(10_000)),
  createdAt: moment,
  changedAt: moment,
  document: text,
});

const VERSION_1 = v.object({
  kind: v.literal(BACKUP_KIND),
  version: v.literal(1),
  lessons: v.pipe(v.array(v.unknown()), v.maxLength(MOST_LESSONS)),
  arrangement: v.optional(v.unknown()),
});

/** A lesson out of a backup file: validated. */
export type BackedUpLesson = Omit<StoredLesson, 'revision'>;

/** What is wrong with a backup file, or with a lesson in it. */
export type BackupDamage = Damage | { readonly kind: 'not JSON' } | { readonly kind: 'same id' };

/** What a backup file holds. */
export interface Backup {
  readonly lessons: readonly BackedUpLesson[];
  /** Folders and the order by hand; absent where the file has none. */
  readonly arrangement?: ShelfArrangement;
  /** What in it cannot be used, and why; the rest is. */
  readonly unusable: readonly { readonly title: string; readonly damage: BackupDamage }[];
}

export type ReadBackup =
  | { readonly kind: 'backup'; readonly backup: Backup }
  | { readonly kind: 'newer'; readonly version: number }
  | { readonly kind: 'damaged'; readonly damage: BackupDamage };

/** Room for what stands round the lessons of a file, and for each between them. */
const BYTES_AROUND = 200;
const BYTES_BETWEEN = 100;

/** How a backup is written. `arrangement` goes into every file. */
export interface BackupOptions {
  readonly largestBytes?: number;
  readonly arrangement?: ShelfArrangement;
}

/**
 * Everything kept as the text of one file, or of several where it would be larger than one that is read back: each lesson's
 * document as it is, byte for byte.
 */
export function writeBackup(
  lessons: readonly BackedUpLesson[],
  { largestBytes = LARGEST_BACKUP_BYTES, arrangement }: BackupOptions = {},
): readonly string[] {
  const sorted = [...lessons].sort((a, b) => a.createdAt - b.createdAt || (a.id < b.id ? -1 : 1));
  const files: object[][] = [[]];
  const around =
    BYTES_AROUND +
    (arrangement === undefined ? 0 : new TextEncoder().encode(JSON.stringify(arrangement, null, 2)).length * 2);
  let bytes = around;
  for (const { id, title, createdAt, changedAt, document } of sorted) {
    const written = { id, title, createdAt, changedAt, document };
    const more = new TextEncoder().encode(JSON.stringify(written)).length + BYTES_BETWEEN;
    if (bytes > around && (bytes + more > largestBytes || files.at(-1)?.length === MOST_LESSONS)) {
      files.push([]);
      bytes = around;
    }
    files.at(-1)?.push(written);
    bytes += more;
  }
  return files.map(
    (each) =>
      `${JSON.stringify({ kind: BACKUP_KIND, version: BACKUP_VERSION, lessons: each, arrangement }, null, 2)}\n`,
  );
}

type ReadLesson =
  | { readonly kind: 'lesson'; readonly lesson: BackedUpLesson }
  | { readonly kind: 'damaged'; readonly damage: BackupDamage };

function readLesson(found: unknown): ReadLesson {
  const parsed = v.safeParse(LESSON, found);
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return { kind: 'damaged', damage: { kind: 'field', field: v.getDotPath(issue) ?? '' } };
  }
  const document = readLessonDocument(parsed.output.document);
  if (!document.ok) return { kind: 'damaged', damage: { kind: 'document', issues: document.issues } };
  return { kind: 'lesson', lesson: { ...parsed.output, title: headingOf(document.value.chartText).title } };
}

/** Reads a backup file from outside. Lessons that cannot be used are named; the others come through. */
export function readBackup(fileText: string): ReadBackup {
  let raw: unknown;
  try {
    raw = JSON.parse(fileText);
  } catch {
    return { kind: 'damaged', damage: { kind: 'not JSON' } };
  }
  const version = v.safeParse(v.object({ kind: v.literal(BACKUP_KIND), version: v.number() }), raw);
  if (version.success && version.output.version > BACKUP_VERSION) {
    return { kind: 'newer', version: version.output.version };
  }
  const parsed = v.safeParse(VERSION_1, raw);
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return { kind: 'damaged', damage: { kind: 'field', field: v.getDotPath(issue) ?? '' } };
  }
  const lessons = new Map<string, BackedUpLesson>();
  const unusable: { title: string; damage: BackupDamage }[] = [];
  for (const found of parsed.output.lessons) {
    const read = readLesson(found);
    if (read.kind === 'lesson' && !lessons.has(read.lesson.id)) {
      lessons.set(read.lesson.id, read.lesson);
    } else {
      const title = (found as { title?: unknown } | null)?.title;
      const damage: BackupDamage = read.kind === 'damaged' ? read.damage : { kind: 'same id' };
      unusable.push({ title: typeof title === 'string' ? cutText(title, 200) : '', damage });
    }
  }
  const { arrangement } = parsed.output;
  return {
    kind: 'backup',
    backup: {
      lessons: [...lessons.values()],
      unusable,
      ...(arrangement === undefined ? {} : { arrangement: readArrangement(arrangement) }),
    },
  };
}
