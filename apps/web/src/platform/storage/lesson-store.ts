import { LONGEST_DOCUMENT_CHARACTERS, readLessonDocument } from '@fivespan/core';
import { nowMs } from '../clock/index.ts';
import type { Damage } from './damage.ts';
import { LessonDatabase } from './lesson-database.ts';
import { openNewsChannel, type LessonNews, type NewsChannel } from './lesson-news.ts';
import { memoryRecords } from './memory-records.ts';
import { RECORD_MIGRATIONS, type RecordMigration } from './record-migrations.ts';
import type { Records, RecordsInChange } from './records.ts';
import { arrangementOf, PLAIN_ARRANGEMENT, type ShelfArrangement } from './shelf-arrangement.ts';
import { faultOf, OpeningTooSlow, type StorageFault } from './storage-fault.ts';
import {
  isAsSeen,
  readRecord,
  textOfRecord,
  titleOfRecord,
  type ReadRecord,
  type SeenLesson,
  type StoredLesson,
} from './stored-lesson.ts';

/** What became of a write. */
export type WriteOutcome =
  | { readonly kind: 'written'; readonly revision: number }
  // someone else (another tab) wrote since: nothing was written; here is theirs
  | { readonly kind: 'overtaken'; readonly stored: StoredLesson | undefined }
  | { readonly kind: 'fault'; readonly fault: StorageFault };

/** What became of reading one lesson. */
export type ReadOutcome =
  | { readonly kind: 'read'; readonly stored: StoredLesson }
  | { readonly kind: 'missing' }
  // by a newer version of this program; left as it is
  | { readonly kind: 'newer'; readonly text: string }
  // set aside just now
  | { readonly kind: 'damaged'; readonly damage: Damage }
  | { readonly kind: 'fault'; readonly fault: StorageFault };

/** A record that this program cannot use, with what can be saved of it. */
export interface UnusedRecord {
  readonly title: string;
  readonly text: string;
}

/** Everything that is kept. */
export interface Shelf {
  readonly lessons: readonly StoredLesson[];
  /** By a newer version of this program; they stay where they are. */
  readonly newer: readonly UnusedRecord[];
  /** Damaged, and kept apart from the others. */
  readonly setAside: readonly (UnusedRecord & {
    readonly number: number;
    readonly foundAt: number;
    /** Null where it was damaged only for the version that found it. */
    readonly damage: Damage | null;
  })[];
  /** How many the browser's database itself cannot give. */
  readonly unreadable: number;
}

/** Lessons to put and to remove, all or none. */
export interface ShelfChange {
  readonly put: readonly StoredLesson[];
  readonly remove: readonly string[];
}

/** How long a browser may take to open its database. */
const OPENING_MS = 10_000;

function timeLimit(milliseconds: number): Promise<never> {
  return new Promise((_resolve, reject) => {
    setTimeout(() => reject(new OpeningTooSlow(milliseconds / 1000)), milliseconds);
  });
}

/** The fault of a document that could not be read back; null where it can. */
function faultOfDocument(document: string): StorageFault | null {
  if (document.length > LONGEST_DOCUMENT_CHARACTERS) return { kind: 'too-large' };
  const read = readLessonDocument(document);
  return read.ok ? null : { kind: 'unreadable', issues: read.issues };
}

/**
 * The lessons kept on this machine. Nothing is written over what was not read before; every write is on the disk when it is
 * acknowledged, and told to the other tabs. Every record is validated when it is read; a damaged one is set aside.
 */
export class LessonStore {
  /** Why nothing lasts longer than this page; null where things are kept on the disk. */
  readonly fault: StorageFault | null;
  /** Whether something would be lost with the page: it was written where nothing lasts. */
  wouldLose = false;
  /**
   * Whether the browser has failed to write since the page was opened, and nothing was proved since: a browser whose
   * disk was full acknowledges writes that are gone when it is started again.
   */
  #isDoubtful = false;
  readonly #records: Records;
  readonly #channel: NewsChannel;
  readonly #migrations: readonly RecordMigration[];
  /** Records that were found good, by id: those that did not change are not validated again. */
  readonly #good = new Map<string, StoredLesson>();

  constructor(
    records: Records,
    channel: NewsChannel,
    fault: StorageFault | null = null,
    migrations: readonly RecordMigration[] = RECORD_MIGRATIONS,
  ) {
    this.#migrations = migrations;
    this.#records = records;
    this.#channel = channel;
    this.fault = fault;
  }

  /** Whether what is acknowledged is not to be believed until `prove` has found it. */
  get isDoubtful(): boolean {
    return this.#isDoubtful;
  }

  /**
   * Looks on the disk for what was acknowledged, through the database opened anew. Takes some seconds; other reading
   * and writing waits for its turn or is tried again.
   * @returns whether it is there; then the browser is believed again
   */
  async prove(id: string, written: SeenLesson): Promise<boolean> {
    try {
      const read = readRecord(await this.#records.lessonOnDisk(id), this.#migrations);
      const isThere = read.kind === 'lesson' && isAsSeen(read.lesson, written);
      if (isThere) this.#isDoubtful = false;
      return isThere;
    } catch {
      return false;
    }
  }

  /** Hears what other tabs write. @returns ends it */
  hear(listener: (news: LessonNews) => void): () => void {
    return this.#channel.hear(listener);
  }

  #read(found: unknown): ReadRecord {
    const record = found as Partial<StoredLesson> | null;
    const good = this.#good.get(String(record?.id));
    if (good !== undefined && isAsSeen(good, record as SeenLesson)) {
      return { kind: 'lesson', lesson: good, isMigrated: false };
    }
    const read = readRecord(found, this.#migrations);
    if (read.kind === 'lesson' && !read.isMigrated) this.#good.set(read.lesson.id, read.lesson);
    return read;
  }

  /** A lesson as a record of the newest version. */
  #recordOf({ id, title, document, createdAt, changedAt, revision }: StoredLesson) {
    return { schema: this.#migrations.length + 1, id, title, document, createdAt, changedAt, revision };
  }

  /** Sets damaged records aside and keeps migrated ones in their new form. */
  async #tidy(keys: readonly unknown[]): Promise<void> {
    if (keys.length === 0) return;
    await this.#records.change(async (records) => {
      for (const key of keys) {
        const found = await records.lesson(key as string);
        if (found !== undefined) await this.#putRight(records, found);
      }
    });
  }

  async #putRight(records: RecordsInChange, found: unknown): Promise<ReadRecord> {
    const read = readRecord(found, this.#migrations);
    if (read.kind === 'lesson' && read.isMigrated) await records.put(this.#recordOf(read.lesson));
    if (read.kind === 'damaged') {
      await records.setAside({ foundAt: nowMs(), reason: read.damage.kind, record: found });
      await records.remove((found as { id: unknown }).id);
    }
    return read;
  }

  /** Everything that is kept, the last changed first. */
  async list(): Promise<
    { readonly kind: 'read'; readonly shelf: Shelf } | { readonly kind: 'fault'; readonly fault: StorageFault }
  > {
    try {
      const { found, unreadable } = await this.#records.lessons();
      const lessons: StoredLesson[] = [];
      const newer: UnusedRecord[] = [];
      const untidy: unknown[] = [];
      for (const each of found) {
        const read = this.#read(each);
        if (read.kind === 'lesson') lessons.push(read.lesson);
        else if (read.kind === 'newer') newer.push({ title: titleOfRecord(each), text: textOfRecord(each) });
        if (read.kind === 'damaged' || (read.kind === 'lesson' && read.isMigrated)) {
          untidy.push((each as { id?: unknown } | null)?.id);
        }
      }
      // a full disk does not keep the rest from opening: they are set aside another time
      await this.#tidy(untidy).catch(() => undefined);
      const setAside = (await this.#records.setAside()).map(({ number, foundAt, record }) => {
        const read = readRecord(record, this.#migrations);
        const damage = read.kind === 'damaged' ? read.damage : null;
        return { number, foundAt, damage, title: titleOfRecord(record), text: textOfRecord(record) };
      });
      lessons.sort((a, b) => b.changedAt - a.changedAt);
      return { kind: 'read', shelf: { lessons, newer, setAside, unreadable: unreadable.length } };
    } catch (error) {
      return { kind: 'fault', fault: faultOf(error) };
    }
  }

  async read(id: string): Promise<ReadOutcome> {
    try {
      const found = await this.#records.lesson(id);
      if (found === undefined) return { kind: 'missing' };
      const read = this.#read(found);
      if (read.kind === 'newer') return { kind: 'newer', text: textOfRecord(found) };
      if (read.kind === 'damaged') {
        await this.#tidy([id]);
        return read;
      }
      return { kind: 'read', stored: read.lesson };
    } catch (error) {
      return { kind: 'fault', fault: faultOf(error) };
    }
  }

  async #change(work: (records: RecordsInChange) => Promise<WriteOutcome>, told: LessonNews): Promise<WriteOutcome> {
    try {
      const outcome = await this.#records.change(work);
      if (outcome.kind === 'written') {
        this.wouldLose = this.fault !== null;
        this.#channel.tell(told.kind === 'written' ? { ...told, revision: outcome.revision } : told);
      }
      return outcome;
    } catch (error) {
      const fault = faultOf(error);
      this.#isDoubtful ||= fault.kind === 'full' || fault.kind === 'failed';
      return { kind: 'fault', fault };
    }
  }

  /** Keeps a new lesson. Where one of its id is kept already, nothing is written. */
  async add(lesson: StoredLesson): Promise<WriteOutcome> {
    const fault = faultOfDocument(lesson.document);
    if (fault !== null) return { kind: 'fault', fault };
    return await this.#change(
      async (records) => {
        const found = await records.lesson(lesson.id);
        const read = found === undefined ? undefined : await this.#putRight(records, found);
        if (read?.kind === 'newer') return { kind: 'fault', fault: { kind: 'newer' } };
        if (read?.kind === 'lesson') return { kind: 'overtaken', stored: read.lesson };
        await records.put(this.#recordOf(lesson));
        return { kind: 'written', revision: lesson.revision };
      },
      { kind: 'written', id: lesson.id, revision: lesson.revision },
    );
  }

  /**
   * Keeps a lesson once in the life of this database, under a name: the demo does not come back when it was removed, and two
   * tabs that start together make one.
   * @returns whether it was done now
   */
  async addOnce(name: string, lesson: StoredLesson): Promise<boolean> {
    const outcome = await this.#change(
      async (records) => {
        if ((await records.fact(name)) !== undefined || (await records.lessons()).length > 0) {
          return { kind: 'overtaken', stored: undefined };
        }
        await records.put(this.#recordOf(lesson));
        await records.putFact(name, true);
        return { kind: 'written', revision: lesson.revision };
      },
      { kind: 'written', id: lesson.id, revision: lesson.revision },
    );
    // what is put there by itself is no loss
    this.wouldLose = false;
    return outcome.kind === 'written';
  }

  /** Writes a lesson over the one that was read. @param seen as it was read */
  async write(id: string, seen: SeenLesson, change: Pick<StoredLesson, 'title' | 'document'>): Promise<WriteOutcome> {
    const changedAt = nowMs();
    // what could not be read back is never written over what can
    const fault = faultOfDocument(change.document);
    if (fault !== null) return { kind: 'fault', fault };
    return await this.#change(
      async (records) => {
        const found = await records.lesson(id);
        if (found === undefined) return { kind: 'overtaken', stored: undefined };
        const read = await this.#putRight(records, found);
        if (read.kind === 'newer') return { kind: 'fault', fault: { kind: 'newer' } };
        if (read.kind === 'lesson' && !isAsSeen(read.lesson, seen)) {
          return { kind: 'overtaken', stored: read.lesson };
        }
        const revision = seen.revision + 1;
        const createdAt = read.kind === 'lesson' ? read.lesson.createdAt : changedAt;
        await records.put(this.#recordOf({ id, createdAt, changedAt, ...change, revision }));
        return { kind: 'written', revision };
      },
      { kind: 'written', id, revision: seen.revision + 1 },
    );
  }

  /**
   * Removes a lesson.
   * @returns what was removed, to put back: undefined where there was none
   */
  async remove(
    id: string,
  ): Promise<
    | { readonly kind: 'removed'; readonly stored: StoredLesson | undefined }
    | { readonly kind: 'fault'; readonly fault: StorageFault }
  > {
    let removed: StoredLesson | undefined;
    const outcome = await this.#change(
      async (records) => {
        const found = await records.lesson(id);
        const read = found === undefined ? undefined : await this.#putRight(records, found);
        if (read?.kind === 'newer') return { kind: 'fault', fault: { kind: 'newer' } };
        if (read?.kind === 'lesson') removed = read.lesson;
        await records.remove(id);
        return { kind: 'written', revision: 0 };
      },
      { kind: 'removed', id },
    );
    return outcome.kind === 'fault' ? outcome : { kind: 'removed', stored: removed };
  }

  /**
   * Makes many changes, all or none.
   * @param seen the lessons as they were shown to the teacher who decided: where they are others by now, nothing is done
   */
  async changeAll(change: ShelfChange, seen: readonly StoredLesson[]): Promise<WriteOutcome> {
    const fault = change.put.map((each) => faultOfDocument(each.document)).find((each) => each !== null);
    if (fault !== undefined) return { kind: 'fault', fault };
    return await this.#change(
      async (records) => {
        const found = await records.lessons();
        const now = found.map((each) => this.#read(each));
        const lessons = now.flatMap((each) => (each.kind === 'lesson' ? [each.lesson] : []));
        const shown = new Map(seen.map((each) => [each.id, each]));
        if (lessons.length !== seen.length || lessons.some((each) => !isAsSeen(each, shown.get(each.id)))) {
          return { kind: 'overtaken', stored: undefined };
        }
        const taken = new Set(now.flatMap((each) => (each.kind === 'newer' ? [each.id] : [])));
        if (change.put.some((each) => taken.has(each.id))) return { kind: 'fault', fault: { kind: 'newer' } };
        // a damaged one may be here still: there was no room to set it aside when it was found
        const gone = new Set([...change.remove, ...change.put.map(({ id }) => id)]);
        for (const each of found) {
          const id = (each as { id?: unknown } | null)?.id;
          if (typeof id === 'string' && gone.has(id)) await this.#putRight(records, each);
        }
        for (const id of change.remove) await records.remove(id);
        for (const each of change.put) {
          // over what other tabs have read: the revision goes on rising
          await records.put(
            this.#recordOf({ ...each, revision: Math.max(each.revision, (shown.get(each.id)?.revision ?? 0) + 1) }),
          );
        }
        return { kind: 'written', revision: 0 };
      },
      { kind: 'look again' },
    );
  }

  /** Drops a record that was set aside: the teacher has saved it, or wants it no more. */
  async dropSetAside(number: number): Promise<void> {
    await this.#records.dropSetAside(number);
    this.#channel.tell({ kind: 'look again' });
  }

  /** When everything was last saved to a backup file; null where it never was, or it is not known. */
  async backedUpAt(): Promise<number | null> {
    const value = await this.#records.fact('backed up').catch(() => null);
    return typeof value === 'number' && Number.isFinite(value) ? value : null;
  }

  /** How the lessons stand on the shelf. */
  async arrangement(): Promise<ShelfArrangement> {
    return await this.#records.fact('arrangement').then(arrangementOf, () => PLAIN_ARRANGEMENT);
  }

  /** Changes how the lessons stand on the shelf, from what is kept now. */
  async arrange(change: (now: ShelfArrangement) => ShelfArrangement): Promise<WriteOutcome> {
    return await this.#change(
      async (records) => {
        const next = change(arrangementOf(await records.fact('arrangement')));
        await records.putFact('arrangement', JSON.stringify(next));
        return { kind: 'written', revision: 0 };
      },
      { kind: 'look again' },
    );
  }

  /** Keeps that everything was saved to a backup file just now. */
  async noteBackup(): Promise<void> {
    const now = nowMs();
    await this.#records.change((records) => records.putFact('backed up', now)).catch(() => undefined);
  }
}

/**
 * Opens the lessons kept on this machine. Where the browser allows it not, or a newer version has written there, they are
 * kept in memory and `fault` says why; what is stored there is not touched.
 */
export async function openLessonStore(name = 'fivespan'): Promise<LessonStore> {
  const channel = openNewsChannel(name);
  const database = new LessonDatabase(name);
  try {
    await Promise.race([database.open(), timeLimit(OPENING_MS)]);
    return new LessonStore(database, channel);
  } catch (error) {
    return new LessonStore(memoryRecords(), channel, faultOf(error));
  }
}
