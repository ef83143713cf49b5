/** What was practised: what, how long, at which tempo in which key. Kept on this machine alone. */
import type { PassAnswer } from './ladder.ts';

/** One stretch of practice: the same step, key and tempo without a break. */
export interface LogEntry {
  readonly id: string;
  /** Where the user is: `2026-11-30`. */
  readonly day: string;
  /** The lesson's title. */
  readonly title: string;
  readonly lessonId: string;
  readonly step: string;
  readonly key: string;
  /** Null where time stands: positions that are looked for. */
  readonly tempoBpm: number | null;
  readonly seconds: number;
  readonly clean: number;
  readonly notYet: number;
}

/** What an entry is about: as long as it stays the same, it goes on. */
export type Practised = Pick<LogEntry, 'day' | 'title' | 'lessonId' | 'step' | 'key' | 'tempoBpm'>;

export interface Log {
  readonly entries: readonly LogEntry[];
  /** The entry that goes on; null at rest. */
  readonly open: string | null;
}

export const EMPTY_LOG: Log = { entries: [], open: null };

const ABOUT = ['day', 'title', 'lessonId', 'step', 'key', 'tempoBpm'] as const;

/** Begins, or goes on with what is the same. @param id for a new entry */
export function begins(log: Log, about: Practised, id: string): Log {
  const open = log.entries.find((each) => each.id === log.open);
  if (open !== undefined && ABOUT.every((field) => open[field] === about[field])) return log;
  return { entries: [...log.entries, { ...about, id, seconds: 0, clean: 0, notYet: 0 }], open: id };
}

const changeOpen = (log: Log, change: (entry: LogEntry) => LogEntry): Log => ({
  ...log,
  entries: log.entries.map((each) => (each.id === log.open ? change(each) : each)),
});

/** Time goes by. @param seconds since the last tick, 0 or more; a machine that slept counts as a second */
export function ticks(log: Log, seconds: number): Log {
  const counted = seconds > LONGEST_TICK_SECONDS ? 1 : Math.max(0, seconds);
  return changeOpen(log, (entry) => ({ ...entry, seconds: entry.seconds + counted }));
}

/** A tick that is longer is no practice: the machine was asleep. */
const LONGEST_TICK_SECONDS = 10;

export function answered(log: Log, answer: PassAnswer): Log {
  return changeOpen(log, (entry) => ({
    ...entry,
    clean: entry.clean + (answer === 'clean' ? 1 : 0),
    notYet: entry.notYet + (answer === 'clean' ? 0 : 1),
  }));
}

export function rests(log: Log): Log {
  return { ...log, open: null };
}

/** Seconds of each day, oldest first. */
export function secondsByDay(
  entries: readonly LogEntry[],
): readonly { readonly day: string; readonly seconds: number }[] {
  const days = new Map<string, number>();
  for (const { day, seconds } of entries) days.set(day, (days.get(day) ?? 0) + seconds);
  return [...days].map(([day, seconds]) => ({ day, seconds })).toSorted((a, b) => (a.day < b.day ? -1 : 1));
}

/** The fastest tempo with a clean pass, by key, in the order the keys were first practised. */
export function tempoByKey(
  entries: readonly LogEntry[],
): readonly { readonly key: string; readonly tempoBpm: number }[] {
  const keys = new Map<string, number>();
  for (const { key, tempoBpm, clean } of entries) {
    if (clean > 0 && tempoBpm !== null) keys.set(key, Math.max(keys.get(key) ?? 0, tempoBpm));
  }
  return [...keys].map(([key, tempoBpm]) => ({ key, tempoBpm }));
}

/** A field of CSV (RFC 4180). What a spreadsheet would take for a formula is text. */
function field(value: string | number): string {
  const text = typeof value === 'string' && /^[=+\-@\t\r]/u.test(value) ? `'${value}` : String(value);
  return /[",\r\n]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** The log as CSV (RFC 4180), a line for each entry that lasted. */
export function csvOf(entries: readonly LogEntry[]): string {
  const head = ['day', 'lesson', 'step', 'key', 'tempo', 'seconds', 'clean', 'not yet'];
  const lines = entries
    .filter(({ seconds }) => seconds > 0)
    .map((each) => [
      each.day,
      each.title,
      each.step,
      each.key,
      each.tempoBpm ?? '',
      Math.round(each.seconds),
      each.clean,
      each.notYet,
    ]);
  return [head, ...lines].map((line) => `${line.map(field).join(',')}\r\n`).join('');
}
