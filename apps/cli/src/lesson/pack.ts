import type { Lesson } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { openPress } from './press.ts';

/** One file of a lesson, made in memory. */
export interface PackFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Files of a lesson in one key; the number progress counts to. */
export const FILES_IN_A_KEY = 4;

/**
 * The files of a lesson in one key: handouts for study and for play, MusicXML, MIDI.
 * @param onFile called after each
 */
export async function makePackFiles(lesson: Lesson, paper: Paper, onFile: () => void): Promise<readonly PackFile[]> {
  const { engraver, fonts, writeHandout, writeMidi, writeMusicXml } = await openPress();
  const makers: readonly (readonly [string, () => Promise<Uint8Array> | Uint8Array])[] = [
    ['study.pdf', () => writeHandout(lesson, { view: 'study', paper, engraver, fonts })],
    ['play.pdf', () => writeHandout(lesson, { view: 'play', paper, engraver, fonts })],
    ['lesson.musicxml', () => new TextEncoder().encode(writeMusicXml(lesson.score))],
    ['lesson.mid', () => writeMidi(lesson.score, lesson.performance)],
  ];
  const files: PackFile[] = [];
  for (const [name, make] of makers) {
    files.push({ name, bytes: await make() });
    onFile();
  }
  return files;
}
