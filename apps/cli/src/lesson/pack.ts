import { type Lesson, type PackFileName, type PartFileName, type PartReader } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { openPress } from './press.ts';

/** One file of a lesson, made in memory. */
export interface PackFile {
  readonly name: PackFileName | PartFileName;
  readonly bytes: Uint8Array;
}

/**
 * The files of a lesson in one key, and the parts for the band.
 * @param names of the files, in their order
 * @param onFile called after each file of the lesson and after each part
 */
export async function makePackFiles(
  lesson: Lesson,
  paper: Paper,
  names: readonly PackFileName[],
  readers: readonly PartReader[],
  onFile: () => void,
): Promise<readonly PackFile[]> {
  // Loaded here, so that help and the printing commands never wait for the engraver and the PDF writer.
  const { makePackFile, makePartFiles } = await import('@fivespan/formats/pack');
  const files: PackFile[] = [];
  for (const name of names) {
    files.push({ name, bytes: await makePackFile(name, lesson, paper, openPress) });
    onFile();
  }
  for (const reader of readers) {
    files.push(...(await makePartFiles(reader, lesson, paper, openPress)));
    onFile();
  }
  return files;
}
