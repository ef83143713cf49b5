import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** A file to write below a folder: its path there, with forward slashes. */
export interface OutputFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/**
 * Writes files so that no reader ever sees half of one: all are written beside first, then each is renamed into place.
 * Other files in the folder stay. If anything fails before the renames, nothing has changed.
 */
export async function writeStaged(folder: string, files: readonly OutputFile[]): Promise<void> {
  const staging = join(folder, `.unfinished-${process.pid}`);
  await mkdir(folder, { recursive: true });
  try {
    for (const { path, bytes } of files) {
      const place = join(staging, path);
      await mkdir(dirname(place), { recursive: true });
      await writeFile(place, bytes);
    }
    for (const { path } of files) {
      const place = join(folder, path);
      await mkdir(dirname(place), { recursive: true });
      await rename(join(staging, path), place);
    }
  } finally {
    await rm(staging, { recursive: true, force: true });
  }
}
