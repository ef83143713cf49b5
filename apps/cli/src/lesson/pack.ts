import { PACK_FILES, type Lesson, type PackFileName } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { openPress } from './press.ts';

/** One file of a lesson, made in memory. */
export interface PackFile {
  readonly name: PackFileName;
  readonly bytes: Uint8Array;
}

/**
 * The files of a lesson in one key.
 * @param onFile called after each
 */
export async function makePackFiles(lesson: Lesson, paper: Paper, onFile: () => void): Promise<readonly PackFile[]> {
  // Loaded here, so that help and the printing commands never wait for the engraver and the PDF writer.
  const { makePackFile } = await import('@fivespan/formats/pack');
  const files: PackFile[] = [];
  for (const name of PACK_FILES) {
    files.push({ name, bytes: await makePackFile(name, lesson, paper, openPress) });
    onFile();
  }
  return files;
}
