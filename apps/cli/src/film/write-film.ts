import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, extname, join } from 'node:path';
import { interruptible } from '../interrupt.ts';
import { removeEmpty, removeLeftovers, stagingIn } from '../lesson/staged-folder.ts';
import type { FilmOrder, MadeFilm } from './film-order.ts';

/** Makes a film's files in a folder: `film`, or its pictures, and a thumbnail. Rejects with the signal's reason where it is asked to stop. */
export type FilmFiles = (folder: string, signal: AbortSignal) => Promise<MadeFilm>;

/** The file of a film's thumbnail while it is made. */
export const THUMBNAIL_FILE = 'thumbnail.png';

/** What stands beside a film, by what its name ends in. */
function textsBeside(made: MadeFilm): Readonly<Record<string, string>> {
  return {
    '.vtt': made.captionsVtt,
    '.srt': made.captionsSrt,
    '.txt': made.description,
    '-cues.txt': made.cueSheet,
  };
}

/**
 * Makes one film beside its place, then puts it there, the film itself last: where making it fails or is stopped, everything is as it was.
 * @param out the film's file, or its folder of pictures
 */
export async function writeFilm(out: string, format: FilmOrder['format'], make: FilmFiles): Promise<MadeFilm> {
  return await interruptible(async (signal) => {
    const isFolder = format === 'png';
    const folder = dirname(out);
    const staging = stagingIn(folder);
    const fresh = await mkdir(folder, { recursive: true });
    try {
      await removeLeftovers(folder);
      await mkdir(staging, { recursive: true });
      const made = await make(staging, signal);
      const stem = isFolder ? out : out.slice(0, out.length - extname(out).length);
      const beside: [from: string, to: string][] = [[THUMBNAIL_FILE, `${stem}-thumbnail.png`]];
      for (const [ending, text] of Object.entries(textsBeside(made))) {
        await writeFile(join(staging, `beside${ending}`), text);
        beside.push([`beside${ending}`, stem + ending]);
      }
      if (isFolder) await rm(join(staging, 'film'), { force: true });
      signal.throwIfAborted();
      for (const [from, to] of beside) await rename(join(staging, from), to);
      if (isFolder) await rm(out, { recursive: true, force: true });
      await rename(isFolder ? staging : join(staging, 'film'), out);
      return made;
    } finally {
      await rm(staging, { recursive: true, force: true });
      if (fresh !== undefined) await removeEmpty(folder, fresh);
    }
  });
}
