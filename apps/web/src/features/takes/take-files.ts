/** Takes out to files and in from files. */
import { ENGINE_VERSION, writeLessonDocument, type Issue } from '@fivespan/core';
import { dayTextOf, newId, nowMs } from '../../platform/clock/index.ts';
import { fileNameOf, openFiles, saveFile } from '../../platform/files/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { TakeRecord } from '../../platform/storage/index.ts';
import { headingOf, $open } from '../open-lesson/index.ts';
import type { TakeInOrder, TakenIn } from './take-file-job.ts';
import { addTake } from './take-shelf.ts';

/** Larger than any hour of piano. */
const LARGEST_BYTES = 8 * 1024 * 1024;

/** The longest a file may take to be read. */
const LIMIT_MS = 30_000;

/** Saves a take as a MIDI file, named by day, tune, key and tempo. @returns whether it could be */
export async function saveTakeFile({ take, title, key, tempoBpm, at }: TakeRecord): Promise<boolean> {
  const bytes = await runJob<string, Uint8Array | null>('take file', take);
  if (bytes === null) return false;
  const name = fileNameOf(`${dayTextOf(at)} ${title} ${key} ${Math.round(tempoBpm)}`, 'take');
  saveFile(`${name}.mid`, bytes, 'audio/midi');
  return true;
}

/** What became of a file that was to be a take. */
export type FileTaken =
  | { readonly kind: 'none chosen' | 'taken' | 'too large' | 'unreadable' | 'unwritten' }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] };

/** Lets the user choose a MIDI file that was recorded elsewhere, as a take of the open lesson. Call from a key or click. */
export async function takeInFile(): Promise<FileTaken> {
  const [file] = await openFiles('.mid,.midi,audio/midi');
  const open = $open.get();
  if (file === undefined || open === null) return { kind: 'none chosen' };
  if (file.size > LARGEST_BYTES) return { kind: 'too large' };
  const { id: lessonId, chartText, choices } = open;
  const document = writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION });
  let taken: TakenIn;
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    taken = await runJob<TakeInOrder, TakenIn>('take in', { bytes, lessonId, document }, { limitMs: LIMIT_MS });
  } catch {
    return { kind: 'unreadable' };
  }
  if (taken.kind === 'refused') return taken;
  const { take, key, tempoBpm } = taken;
  const title = headingOf(chartText).title;
  try {
    await addTake({
      id: newId(),
      lessonId,
      title,
      key,
      tempoBpm,
      at: nowMs(),
      state: 'kept',
      isOffered: false,
      remarks: [],
      take,
    });
  } catch {
    return { kind: 'unwritten' };
  }
  return { kind: 'taken' };
}
