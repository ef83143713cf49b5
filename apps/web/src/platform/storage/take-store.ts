/** Takes, in a database of their own: never in a lesson, and an older page that knows nothing of them is not disturbed. */
import { Dexie, type EntityTable } from 'dexie';
import * as v from 'valibot';
import { readRecord, type TakeRecord } from './take-record.ts';

/** Version of the tables; rises by one when they change, each with its step in the constructor below. */
const DATABASE_VERSION = 1;

const PIECE = v.object({ events: v.pipe(v.array(v.array(v.number())), v.maxLength(100_000)) });

/** What is kept of takes. Reading trusts nothing; what is damaged is passed over and stays where it is. */
export interface TakeStore {
  /** All, oldest first. */
  readonly all: () => Promise<readonly TakeRecord[]>;
  readonly one: (id: string) => Promise<TakeRecord | null>;
  readonly put: (record: TakeRecord) => Promise<void>;
  /** All of it or nothing. */
  readonly changeAll: (put: readonly TakeRecord[], remove: readonly string[]) => Promise<void>;
  /** Adds to what a take that is being recorded has. */
  readonly append: (id: string, events: readonly (readonly number[])[]) => Promise<void>;
  /** What was added, in order. */
  readonly appended: (id: string) => Promise<readonly (readonly number[])[]>;
  /** A take is whole: what was added piece by piece is in it now. */
  readonly finish: (record: TakeRecord) => Promise<void>;
  /** Gone, with all that was added. */
  readonly remove: (ids: readonly string[]) => Promise<void>;
}

class Tables extends Dexie {
  declare readonly takes: EntityTable<{ readonly id: string }, 'id'>;
  declare readonly pieces: EntityTable<
    { readonly number: number; readonly takeId: string; readonly events: unknown },
    'number'
  >;

  constructor(name: string) {
    super(name, { chromeTransactionDurability: 'strict' });
    this.version(DATABASE_VERSION).stores({ takes: 'id', pieces: '++number, takeId' });
  }
}

/** As long as the page lasts: for browsers that allow no database. */
function inMemory(): TakeStore {
  const takes = new Map<string, TakeRecord>();
  const pieces = new Map<string, (readonly number[])[]>();
  return {
    all: async () => [...takes.values()].toSorted((a, b) => a.at - b.at),
    one: async (id) => takes.get(id) ?? null,
    put: async (record) => void takes.set(record.id, record),
    changeAll: async (put, remove) => {
      for (const id of remove) takes.delete(id);
      for (const record of put) takes.set(record.id, record);
    },
    append: async (id, events) => void pieces.set(id, [...(pieces.get(id) ?? []), ...events]),
    appended: async (id) => pieces.get(id) ?? [],
    finish: async (record) => {
      takes.set(record.id, record);
      pieces.delete(record.id);
    },
    remove: async (ids) => {
      for (const id of ids) {
        takes.delete(id);
        pieces.delete(id);
      }
    },
  };
}

/** Opens the takes; in memory where the browser allows no database. Nothing is written before all of it was read once. */
export async function openTakeStore(name: string): Promise<TakeStore> {
  const tables = new Tables(name);
  try {
    await tables.open();
    await tables.takes.toCollection().keys();
  } catch {
    return inMemory();
  }
  return {
    all: async () =>
      (await tables.takes.toArray()).flatMap((found) => readRecord(found) ?? []).toSorted((a, b) => a.at - b.at),
    one: async (id) => readRecord(await tables.takes.get(id)),
    put: async (record) => void (await tables.takes.put(record)),
    changeAll: async (put, remove) => {
      await tables.transaction('rw', tables.takes, async () => {
        await tables.takes.bulkDelete([...remove]);
        await tables.takes.bulkPut([...put]);
      });
    },
    append: async (takeId, events) => void (await tables.pieces.add({ takeId, events } as never)),
    appended: async (takeId) =>
      (await tables.pieces.where({ takeId }).sortBy('number')).flatMap((found) => {
        const read = v.safeParse(PIECE, found);
        return read.success ? read.output.events : [];
      }),
    finish: async (record) => {
      await tables.transaction('rw', tables.takes, tables.pieces, async () => {
        await tables.takes.put(record);
        await tables.pieces.where({ takeId: record.id }).delete();
      });
    },
    remove: async (ids) => {
      await tables.transaction('rw', tables.takes, tables.pieces, async () => {
        await tables.takes.bulkDelete([...ids]);
        await tables.pieces.where('takeId').anyOf(ids).delete();
      });
    },
  };
}
