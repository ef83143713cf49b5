/** Takes, in a database of their own: never in a lesson, and an older page that knows nothing of them is not disturbed. */
import { Dexie, type EntityTable } from 'dexie';
import * as v from 'valibot';

/** Version of the tables; rises by one when they change, each with its step in the constructor below. */
const DATABASE_VERSION = 1;

/** A hundred remarks of a page each are more than anybody reads. */
const MOST_REMARKS = 2_000;
const LONGEST_REMARK = 4_000;

const text = v.pipe(v.string(), v.maxLength(1000));

const HEAD = v.object({
  id: v.pipe(v.string(), v.regex(/^[\w-]{1,64}$/u)),
  lessonId: text,
  title: v.pipe(v.string(), v.maxLength(10_000)),
  /** As in `Eb major`. */
  key: v.pipe(v.string(), v.maxLength(20)),
  tempoBpm: v.pipe(v.number(), v.minValue(1), v.maxValue(1000)),
  /** When it was begun: milliseconds since 1970. */
  at: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(8.64e15)),
  state: v.picklist(['recording', 'not kept', 'kept']),
  /** Whether it was offered once already after the page had ended without a word. */
  isOffered: v.optional(v.boolean(), false),
  /** The teacher's own, by bar as counted on paper. */
  remarks: v.pipe(
    v.array(
      v.object({
        bar: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(100_000)),
        text: v.pipe(v.string(), v.maxLength(LONGEST_REMARK)),
      }),
    ),
    v.maxLength(MOST_REMARKS),
  ),
  /** The take as core writes it; while it is recorded, without notes. */
  take: v.pipe(v.string(), v.maxLength(12_000_000)),
});
const PIECE = v.object({ events: v.pipe(v.array(v.array(v.number())), v.maxLength(100_000)) });

/** A take with all that is kept of it. The text of the take is judged by whoever reads it. */
export type TakeRecord = v.InferOutput<typeof HEAD>;

/** What is kept of takes. Reading trusts nothing; what is damaged is passed over and stays where it is. */
export interface TakeStore {
  /** All, oldest first. */
  readonly all: () => Promise<readonly TakeRecord[]>;
  readonly one: (id: string) => Promise<TakeRecord | null>;
  readonly put: (record: TakeRecord) => Promise<void>;
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

const readRecord = (found: unknown): TakeRecord | null => {
  const read = v.safeParse(HEAD, found);
  return read.success ? read.output : null;
};

/** As long as the page lasts: for browsers that allow no database. */
function inMemory(): TakeStore {
  const takes = new Map<string, TakeRecord>();
  const pieces = new Map<string, (readonly number[])[]>();
  return {
    all: async () => [...takes.values()].toSorted((a, b) => a.at - b.at),
    one: async (id) => takes.get(id) ?? null,
    put: async (record) => void takes.set(record.id, record),
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
