import { Dexie, type EntityTable } from 'dexie';

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

/** A lesson in a list: without its document. */
export type LessonSummary = Omit<StoredLesson, 'document'>;

/** What stands in the way of keeping things on this machine. */
export type StorageFault =
  | { readonly kind: 'refused' } // the browser allows no storage here
  | { readonly kind: 'full' }
  | { readonly kind: 'newer' } // a newer version of this program has written here
  | { readonly kind: 'failed'; readonly message: string };

/** What became of a write. */
export type WriteOutcome =
  | { readonly kind: 'written'; readonly revision: number }
  // someone else (another tab) wrote since: nothing was written; here is theirs
  | { readonly kind: 'overtaken'; readonly stored: StoredLesson | undefined }
  | { readonly kind: 'fault'; readonly fault: StorageFault };

class LessonDatabase extends Dexie {
  declare readonly lessons: EntityTable<StoredLesson, 'id'>;

  constructor(name: string) {
    // strict: a write is acknowledged when it is on the disk
    super(name, { chromeTransactionDurability: 'strict' });
    this.version(1).stores({ lessons: 'id, title, changedAt' });
  }
}

function faultOf(error: unknown): StorageFault {
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') return { kind: 'full' };
  if (name === 'VersionError') return { kind: 'newer' };
  if (name === 'MissingAPIError' || name === 'SecurityError' || name === 'InvalidStateError')
    return { kind: 'refused' };
  return { kind: 'failed', message: error instanceof Error ? error.message : String(error) };
}

/** The lessons kept on this machine. Nothing is written that was not read before; every write is on the disk when it is acknowledged. */
export class LessonStore {
  readonly #database: LessonDatabase;

  constructor(name = 'fivespan') {
    this.#database = new LessonDatabase(name);
  }

  async list(): Promise<readonly LessonSummary[]> {
    return (await this.#database.lessons.orderBy('changedAt').reverse().toArray()).map(
      ({ document: _document, ...summary }) => summary,
    );
  }

  async read(id: string): Promise<StoredLesson | undefined> {
    return await this.#database.lessons.get(id);
  }

  /** Keeps a new lesson. */
  async add(lesson: StoredLesson): Promise<WriteOutcome> {
    try {
      await this.#database.lessons.add(lesson);
      return { kind: 'written', revision: lesson.revision };
    } catch (error) {
      return { kind: 'fault', fault: faultOf(error) };
    }
  }

  /** Writes a lesson over the revision that was read. */
  async write(
    id: string,
    readRevision: number,
    change: Pick<StoredLesson, 'title' | 'document' | 'changedAt'>,
  ): Promise<WriteOutcome> {
    try {
      return await this.#database.transaction('rw', this.#database.lessons, async (): Promise<WriteOutcome> => {
        const stored = await this.#database.lessons.get(id);
        if (stored?.revision !== readRevision) return { kind: 'overtaken', stored };
        const revision = readRevision + 1;
        await this.#database.lessons.put({ ...stored, ...change, revision });
        return { kind: 'written', revision };
      });
    } catch (error) {
      return { kind: 'fault', fault: faultOf(error) };
    }
  }

  async remove(id: string): Promise<StoredLesson | undefined> {
    const stored = await this.read(id);
    await this.#database.lessons.delete(id);
    return stored;
  }
}
