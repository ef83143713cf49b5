/** A record that could not be read, as it was found. */
export interface SetAsideRecord {
  /** Numbered in the order in which they were found. */
  readonly number: number;
  /** Milliseconds since 1970. */
  readonly foundAt: number;
  /** In one word; whoever shows it finds out the rest anew, in their own words. */
  readonly reason: string;
  readonly record: unknown;
}

/** Reading and writing records within one change, which is made as a whole or not at all. */
export interface RecordsInChange {
  readonly lessons: () => Promise<readonly unknown[]>;
  readonly lesson: (id: string) => Promise<unknown>;
  readonly put: (record: { readonly id: string }) => Promise<void>;
  /** @param key as it was found: a damaged record may have any */
  readonly remove: (key: unknown) => Promise<void>;
  readonly setAside: (record: Omit<SetAsideRecord, 'number'>) => Promise<void>;
  readonly fact: (name: string) => Promise<unknown>;
  readonly putFact: (name: string, value: string | number | boolean) => Promise<void>;
}

/** Where records lie: in the browser's database, or in memory where it allows none. Nothing in it has been validated. */
export interface Records {
  /** Each with its key; those that the database itself cannot give are named by their keys alone. */
  readonly lessons: () => Promise<{ readonly found: readonly unknown[]; readonly unreadable: readonly string[] }>;
  readonly lesson: (id: string) => Promise<unknown>;
  readonly setAside: () => Promise<readonly SetAsideRecord[]>;
  readonly dropSetAside: (number: number) => Promise<void>;
  readonly fact: (name: string) => Promise<unknown>;
  /** What is on the disk under an id, looked for there anew: no memory of the page or the browser answers for it. */
  readonly lessonOnDisk: (id: string) => Promise<unknown>;
  /** Acknowledged when it is on the disk. What `work` awaits may only be what it is given. */
  readonly change: <Value>(work: (records: RecordsInChange) => Promise<Value>) => Promise<Value>;
}
