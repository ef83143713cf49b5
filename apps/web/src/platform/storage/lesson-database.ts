import { Dexie, type EntityTable } from 'dexie';
import type { Records, RecordsInChange, SetAsideRecord } from './records.ts';
import { NewerDatabase } from './storage-fault.ts';

/** Version of the tables; rises by one when they change. Records have their own (record-migrations.ts). */
const DATABASE_VERSION = 1;

/** Dexie multiplies versions by ten, and adds ones where it patches. */
const NATIVE_PER_VERSION = 10;

/**
 * How long a browser may keep a database's files open, with what they held, after its last connection: Chromium two
 * seconds (from memory); read before, it would answer from there.
 */
const LET_GO_MS = 3_000;

interface Fact {
  readonly name: string;
  readonly value: unknown;
}

class Tables extends Dexie {
  declare readonly lessons: EntityTable<{ readonly id: string }, 'id'>;
  declare readonly setAside: EntityTable<SetAsideRecord, 'number'>;
  declare readonly facts: EntityTable<Fact, 'name'>;

  constructor(name: string) {
    super(name, {
      // strict: a write is acknowledged when it is on the disk
      chromeTransactionDurability: 'strict',
      // opened here alone, where it is looked at first
      autoOpen: false,
    });
    this.version(DATABASE_VERSION).stores({ lessons: 'id', setAside: '++number', facts: 'name' });
  }
}

/** The database as it is, without changing it; undefined where there is none. */
function openAsFound(name: string): Promise<IDBDatabase | undefined> {
  return new Promise((resolve, reject) => {
    // absent in some private windows
    if ((globalThis.indexedDB as IDBFactory | undefined) === undefined) {
      reject(new DOMException('no database', 'SecurityError'));
      return;
    }
    const request = indexedDB.open(name);
    let isThere = true;
    request.addEventListener('upgradeneeded', () => {
      // none was there: none is made
      isThere = false;
      request.transaction?.abort();
    });
    request.addEventListener('success', () => resolve(request.result));
    request.addEventListener('error', () => {
      if (isThere) reject(request.error as DOMException);
      else resolve(undefined);
    });
  });
}

/** Dexie opens a database of a newer version as if it were its own, and patches it: so it is looked at before. */
async function refuseNewer(name: string): Promise<void> {
  const found = await openAsFound(name);
  const version = found?.version ?? 0;
  found?.close();
  if (Math.floor(version / NATIVE_PER_VERSION) > DATABASE_VERSION) throw new NewerDatabase(`version ${version}`);
}

/** The lessons' records of a database of any version, as they were found; for a file to be saved. */
export async function recordsAsFound(name: string): Promise<readonly unknown[]> {
  const database = await openAsFound(name);
  if (database === undefined) return [];
  try {
    if (!database.objectStoreNames.contains('lessons')) return [];
    return await new Promise((resolve, reject) => {
      const request = database.transaction('lessons', 'readonly').objectStore('lessons').getAll();
      request.addEventListener('success', () => resolve(request.result as unknown[]));
      request.addEventListener('error', () => reject(request.error as DOMException));
    });
  } finally {
    database.close();
  }
}

/** The browser's database. A write is on the disk when it is acknowledged. */
export class LessonDatabase implements Records {
  readonly #name: string;
  readonly #tables: Tables;
  #isOvertaken = false;

  constructor(name: string) {
    this.#name = name;
    this.#tables = new Tables(name);
    // Dexie closes the database then; it is not opened again over a newer one
    this.#tables.on('versionchange', ({ newVersion }) => {
      this.#isOvertaken ||= newVersion !== null;
    });
  }

  /** Opens it, also again where the browser closed it. Throws NewerDatabase, and what the browser throws. */
  async open(): Promise<void> {
    if (this.#tables.isOpen()) return;
    if (this.#isOvertaken) throw new NewerDatabase('another tab has a newer version');
    await refuseNewer(this.#name);
    await this.#tables.open();
  }

  readonly close = (): void => this.#tables.close();

  readonly lessons = async (): Promise<{ found: readonly unknown[]; unreadable: readonly string[] }> => {
    await this.open();
    const { lessons } = this.#tables;
    try {
      return { found: await lessons.toArray(), unreadable: [] };
    } catch {
      // one record that cannot be read hides them all: take them one by one
    }
    const found: unknown[] = [];
    const unreadable: string[] = [];
    for (const key of await lessons.toCollection().primaryKeys()) {
      try {
        found.push(await lessons.get(key));
      } catch {
        unreadable.push(key);
      }
    }
    return { found, unreadable };
  };

  readonly lesson = async (id: string): Promise<unknown> => {
    await this.open();
    return await this.#tables.lessons.get(id);
  };

  readonly lessonOnDisk = async (id: string): Promise<unknown> => {
    this.close();
    await new Promise((resolve) => setTimeout(resolve, LET_GO_MS));
    // opened anew by itself where something else wanted it meanwhile: closed again, so that this is the only connection
    this.close();
    return await this.lesson(id);
  };

  readonly setAside = async (): Promise<readonly SetAsideRecord[]> => {
    await this.open();
    return await this.#tables.setAside.toArray();
  };

  readonly dropSetAside = async (number: number): Promise<void> => {
    await this.open();
    await this.#tables.setAside.delete(number);
  };

  readonly fact = async (name: string): Promise<unknown> => {
    await this.open();
    return (await this.#tables.facts.get(name))?.value;
  };

  readonly change = async <Value>(work: (records: RecordsInChange) => Promise<Value>): Promise<Value> => {
    await this.open();
    const { lessons, setAside, facts } = this.#tables;
    return await this.#tables.transaction('rw', [lessons, setAside, facts], async () => {
      const records: RecordsInChange = {
        lessons: async () => await lessons.toArray(),
        lesson: async (id) => await lessons.get(id),
        put: async (record) => {
          await lessons.put(record);
        },
        remove: async (key) => await lessons.delete(key as string),
        setAside: async (record) => {
          await setAside.add(record as SetAsideRecord);
        },
        fact: async (name) => (await facts.get(name))?.value,
        putFact: async (name, value) => {
          await facts.put({ name, value });
        },
      };
      return await work(records);
    });
  };
}
