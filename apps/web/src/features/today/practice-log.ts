/** The log and the ladders as they are kept: written while one plays, so that a kill loses a second of it at most. */
import { openPracticeStore, type PracticeStore } from '../../platform/storage/index.ts';
import type { LogEntry } from './log.ts';
import type { keptOf } from './ladder.ts';

let opening: Promise<PracticeStore> | undefined;

const store = (): Promise<PracticeStore> => (opening ??= openPracticeStore('fivespan-practice'));

/** All that was practised on this machine, oldest first. */
export async function keptEntries(): Promise<readonly LogEntry[]> {
  return await (await store()).entries();
}

export async function keepEntry(entry: LogEntry): Promise<void> {
  await (await store()).putEntry(entry);
}

/** Takes everything off this machine. */
export async function forgetEntries(): Promise<void> {
  await (await store()).clear();
}

export type KeptLadder = ReturnType<typeof keptOf>;

/** Where a ladder stood; null where it was never climbed. */
export async function keptLadder(lessonId: string, step: string): Promise<KeptLadder | null> {
  return await (await store()).ladder(`${lessonId} ${step}`);
}

export async function keepLadder(lessonId: string, step: string, ladder: KeptLadder): Promise<void> {
  await (await store()).putLadder(`${lessonId} ${step}`, ladder);
}
