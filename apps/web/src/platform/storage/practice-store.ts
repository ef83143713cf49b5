/** What was practised, in a database of its own: an older page that knows nothing of it goes on with the lessons undisturbed. */
import { Dexie, type EntityTable } from 'dexie';
import * as v from 'valibot';

const text = v.pipe(v.string(), v.maxLength(1000));
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(1_000_000));
const bpm = v.pipe(v.number(), v.minValue(1), v.maxValue(1000));

const ENTRY = v.object({
  id: text,
  day: v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/u)),
  title: v.pipe(v.string(), v.maxLength(10_000)),
  lessonId: text,
  step: text,
  key: text,
  tempoBpm: v.nullable(bpm),
  seconds: v.pipe(v.number(), v.minValue(0), v.maxValue(1_000_000)),
  clean: count,
  notYet: count,
});
const LADDER = v.object({
  key: text,
  reached: v.pipe(v.array(v.object({ key: text, tempoBpm: bpm })), v.maxLength(50)),
});
type Entry = v.InferOutput<typeof ENTRY>;
interface Ladder {
  readonly key: string;
  readonly reached: readonly { readonly key: string; readonly tempoBpm: number }[];
}

/** The log and the ladders. Reading trusts nothing; what is damaged is passed over. */
export interface PracticeStore {
  /** Oldest first. */
  readonly entries: () => Promise<readonly Entry[]>;
  readonly putEntry: (entry: Entry) => Promise<void>;
  readonly clear: () => Promise<void>;
  readonly ladder: (id: string) => Promise<Ladder | null>;
  readonly putLadder: (id: string, ladder: Ladder) => Promise<void>;
}

class Tables extends Dexie {
  declare readonly log: EntityTable<{ readonly id: string; readonly at: number; readonly entry: unknown }, 'id'>;
  declare readonly ladders: EntityTable<{ readonly id: string; readonly ladder: unknown }, 'id'>;

  constructor(name: string) {
    super(name);
    this.version(1).stores({ log: 'id, at', ladders: 'id' });
  }
}

/** As long as the page lasts: for browsers that allow no database. */
function inMemory(): PracticeStore {
  const entries = new Map<string, Entry>();
  const ladders = new Map<string, Ladder>();
  return {
    entries: async () => [...entries.values()],
    putEntry: async (entry) => void entries.set(entry.id, entry),
    clear: async () => {
      entries.clear();
      ladders.clear();
    },
    ladder: async (id) => ladders.get(id) ?? null,
    putLadder: async (id, ladder) => void ladders.set(id, ladder),
  };
}

/** Opens the log; one in memory where the browser allows no database. */
export async function openPracticeStore(name: string): Promise<PracticeStore> {
  const tables = new Tables(name);
  try {
    await tables.open();
  } catch {
    return inMemory();
  }
  /** In which order entries came: a clock may be set back. */
  let last = (await tables.log.orderBy('at').last())?.at ?? 0;
  const places = new Map<string, number>();
  return {
    entries: async () =>
      (await tables.log.orderBy('at').toArray()).flatMap(({ entry }) => {
        const read = v.safeParse(ENTRY, entry);
        return read.success ? [read.output] : [];
      }),
    putEntry: async (entry) => {
      const at = places.get(entry.id) ?? ++last;
      places.set(entry.id, at);
      await tables.log.put({ id: entry.id, at, entry });
    },
    clear: async () => {
      await tables.log.clear();
      await tables.ladders.clear();
    },
    ladder: async (id) => {
      const read = v.safeParse(LADDER, (await tables.ladders.get(id))?.ladder);
      return read.success ? read.output : null;
    },
    putLadder: async (id, ladder) => {
      await tables.ladders.put({ id, ladder });
    },
  };
}
