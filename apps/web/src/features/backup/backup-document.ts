import { cutText, LONGEST_DOCUMENT_CHARACTERS, readLessonDocument, readTake } from '@fivespan/core';
import * as v from 'valibot';
import type { Damage, StoredLesson } from '../../platform/storage/index.ts';
// the files themselves: through the index a worker would load the database too
import { readArrangement, type ShelfArrangement } from '../../platform/storage/shelf-arrangement.ts';
import { readRecord, type TakeRecord } from '../../platform/storage/take-record.ts';
import { headingOf } from '../open-lesson/heading.ts';

/** What a backup file says it is, in its first field. */
export const BACKUP_KIND = 'fivespan backup';

/**
 * Newest version of the backup file that this program writes: 2 has takes. What has none is written as version 1, which older
 * programs read, too.
 */
const BACKUP_VERSION = 2;

/** More lessons than a teacher's life has. */
const MOST_LESSONS = 100_000;

/** A take a day for a lifetime. */
const MOST_TAKES = 30_000;

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

const FILE = v.object({
  kind: v.literal(BACKUP_KIND),
  version: v.picklist([1, 2]),
  lessons: v.pipe(v.array(v.unknown()), v.maxLength(MOST_LESSONS)),
  arrangement: v.optional(v.unknown()),
  takes: v.optional(v.pipe(v.array(v.unknown()), v.maxLength(MOST_TAKES)), []),
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
  /** Kept takes; absent where nobody ticked them. */
  readonly takes?: readonly TakeRecord[];
  /** How many takes in it cannot be used. */
  readonly unusableTakes?: number;
  /** Lessons in it that cannot be used, and why; the rest is. */
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
  /** Kept takes, where somebody wants them in it. */
  readonly takes?: readonly TakeRecord[];
}

/**
 * Everything kept as the text of one file, or of several where it would be larger than one that is read back: each lesson's
 * document as it is, byte for byte.
 */
export function writeBackup(
  lessons: readonly BackedUpLesson[],
  { largestBytes = LARGEST_BACKUP_BYTES, arrangement, takes = [] }: BackupOptions = {},
): readonly string[] {
  const sorted = [...lessons].sort((a, b) => a.createdAt - b.createdAt || (a.id < b.id ? -1 : 1));
  const files: { readonly lessons: object[]; readonly takes: object[] }[] = [{ lessons: [], takes: [] }];
  const around =
    BYTES_AROUND +
    (arrangement === undefined ? 0 : new TextEncoder().encode(JSON.stringify(arrangement, null, 2)).length * 2);
  let bytes = around;
  const add = (kind: 'lessons' | 'takes', written: object, most: number): void => {
    const text = JSON.stringify(written, null, 2);
    // in the file each of its lines stands further in
    const more = new TextEncoder().encode(text).length + 4 * text.split('\n').length + BYTES_BETWEEN;
    if (bytes > around && (bytes + more > largestBytes || files.at(-1)?.[kind].length === most)) {
      files.push({ lessons: [], takes: [] });
      bytes = around;
    }
    files.at(-1)?.[kind].push(written);
    bytes += more;
  };
  for (const { id, title, createdAt, changedAt, document } of sorted)
    add('lessons', { id, title, createdAt, changedAt, document }, MOST_LESSONS);
  for (const { id, lessonId, title, key, tempoBpm, at, remarks, take } of takes)
    add('takes', { id, lessonId, title, key, tempoBpm, at, remarks, take }, MOST_TAKES);
  return files.map((each) => {
    const { length } = each.takes;
    const version = length === 0 ? 1 : BACKUP_VERSION;
    const written = length === 0 ? { lessons: each.lessons } : each;
    return `${JSON.stringify({ kind: BACKUP_KIND, version, ...written, arrangement }, null, 2)}\n`;
  });
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

/** Takes of a file, each once, and how many of them cannot be used. */
function readTakes(found: readonly unknown[]): Pick<Backup, 'takes' | 'unusableTakes'> {
  if (found.length === 0) return {};
  const takes = new Map<string, TakeRecord>();
  for (const each of found) {
    const record = typeof each === 'object' && each !== null ? readRecord({ ...each, state: 'kept' }) : null;
    if (record !== null && !takes.has(record.id) && readTake(record.take).ok) takes.set(record.id, record);
  }
  return { takes: [...takes.values()], unusableTakes: found.length - takes.size };
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
  const parsed = v.safeParse(FILE, raw);
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
      ...readTakes(parsed.output.takes),
      ...(arrangement === undefined ? {} : { arrangement: readArrangement(arrangement) }),
    },
  };
}
