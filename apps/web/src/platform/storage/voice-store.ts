/** Recordings that lie under scenes of films, in a database of their own: a lesson only names them by their hash. */
import { Dexie, type EntityTable } from 'dexie';
import * as v from 'valibot';

/** Version of the tables; rises by one when they change, each with its step in the constructor below. */
const DATABASE_VERSION = 1;

const RECORD = v.object({
  hash: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/u)),
  /** When it was laid: milliseconds since 1970. */
  at: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(8.64e15)),
  bytes: v.instance(Blob),
});

/** A recording as it is kept. */
export type VoiceRecord = v.InferOutput<typeof RECORD>;

/** What is kept of voices. What is damaged is as if it were not there. */
export interface VoiceStore {
  readonly hashes: () => Promise<readonly string[]>;
  readonly one: (hash: string) => Promise<VoiceRecord | null>;
  readonly put: (record: VoiceRecord) => Promise<void>;
  /** Takes away what is older than a time and that `isNamed` does not know. */
  readonly sweep: (beforeMs: number, isNamed: (hash: string) => boolean) => Promise<void>;
}

class Tables extends Dexie {
  declare readonly voices: EntityTable<{ readonly hash: string }, 'hash'>;

  constructor(name: string) {
    super(name, { chromeTransactionDurability: 'strict' });
    this.version(DATABASE_VERSION).stores({ voices: 'hash' });
  }
}

const readRecord = (found: unknown): VoiceRecord | null => {
  const read = v.safeParse(RECORD, found);
  return read.success ? read.output : null;
};

/** As long as the page lasts: for browsers that allow no database. */
function inMemory(): VoiceStore {
  const voices = new Map<string, VoiceRecord>();
  return {
    hashes: async () => [...voices.keys()],
    one: async (hash) => voices.get(hash) ?? null,
    put: async (record) => void voices.set(record.hash, record),
    sweep: async () => undefined,
  };
}

/** Opens the voices; in memory where the browser allows no database. Nothing is written before all of it was read once. */
export async function openVoiceStore(name: string): Promise<VoiceStore> {
  const tables = new Tables(name);
  try {
    await tables.open();
    await tables.voices.toCollection().keys();
  } catch {
    return inMemory();
  }
  return {
    hashes: async () => (await tables.voices.toCollection().primaryKeys()).map(String),
    one: async (hash) => readRecord(await tables.voices.get(hash)),
    put: async (record) => void (await tables.voices.put(record)),
    sweep: async (beforeMs, isNamed) => {
      for (const hash of await tables.voices.toCollection().primaryKeys()) {
        // one by one: together they may be larger than memory
        const record = isNamed(hash) ? null : readRecord(await tables.voices.get(hash));
        if (record !== null && record.at < beforeMs) await tables.voices.delete(hash);
      }
    },
  };
}
