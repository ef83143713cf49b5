import { mkdir, readdir, rename, rm, rmdir, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { interruptible } from '../interrupt.ts';

/** A file to write below a folder: its path there, with forward slashes. */
export interface OutputFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** A file too large to be held in memory: its pieces, one after the other. */
interface OutputPieces {
  readonly path: string;
  readonly bytes: AsyncIterable<Uint8Array>;
}

/** Whether a process is there. */
const isRunning = (pid: number): boolean => {
  try {
    process.kill(pid, 0); // sends nothing: asks whether it is there
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
};

/** Where a run writes before its files are whole: beside their place, its process named. */
export const stagingIn = (folder: string): string => join(folder, `.unfinished-${process.pid}`);

/**
 * Removes what runs left that were killed or lost their power; never that of one that is still writing.
 * @param named finds the process in a name, as its first group
 */
export async function removeLeftovers(folder: string, named: RegExp = /^\.unfinished-(\d+)$/u): Promise<void> {
  for (const name of await readdir(folder)) {
    const pid = Number(named.exec(name)?.[1] ?? Number.NaN);
    if (pid === process.pid || (Number.isInteger(pid) && !isRunning(pid))) {
      // what another user's run left is theirs to remove
      await rm(join(folder, name), { recursive: true, force: true }).catch(() => undefined);
    }
  }
}

/** Removes the folders that were made for nothing, innermost first; one that holds something stays. */
export async function removeEmpty(innermost: string, outermost: string): Promise<void> {
  const last = resolve(outermost);
  for (let folder = resolve(innermost); folder.startsWith(last); folder = dirname(folder)) {
    const isRemoved = await rmdir(folder).then(
      () => true,
      () => false,
    );
    if (!isRemoved) return;
  }
}

/**
 * Writes files so that no reader ever sees half of one: all are written beside first, then each is renamed into place.
 * Other files in the folder stay. If anything fails before the renames, nothing has changed.
 * @throws Interrupted where the program is asked to stop before the renames; once they have begun they are finished
 */
export async function writeStaged(folder: string, files: readonly (OutputFile | OutputPieces)[]): Promise<void> {
  await interruptible(async (signal) => {
    const made = await mkdir(folder, { recursive: true });
    const staging = stagingIn(folder);
    try {
      await removeLeftovers(folder);
      for (const { path, bytes } of files) {
        const place = join(staging, path);
        await mkdir(dirname(place), { recursive: true });
        await writeFile(place, bytes);
        signal.throwIfAborted();
      }
      for (const { path } of files) {
        const place = join(folder, path);
        await mkdir(dirname(place), { recursive: true });
        await rename(join(staging, path), place);
      }
    } finally {
      await rm(staging, { recursive: true, force: true });
      if (made !== undefined) await removeEmpty(folder, made);
    }
  });
}
