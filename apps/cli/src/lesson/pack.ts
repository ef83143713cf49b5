import type { Lesson, Progress } from '@fivespan/core';

/** Which paper a handout is laid out for. */
export type Paper = 'a4' | 'letter';

/** One file of a lesson, made in memory. */
export interface PackFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** The files of a lesson in one key: handouts for study and for play, MusicXML, MIDI. */
export async function makePackFiles(lesson: Lesson, paper: Paper, progress: Progress): Promise<readonly PackFile[]> {
  // Loaded here, so that help and the printing commands never wait for the engraver and the PDF writer.
  const [{ createEngraver }, { writeHandout }, { writeMidi }, { writeMusicXml }] = await Promise.all([
    import('@fivespan/formats/engraving'),
    import('@fivespan/formats/handout'),
    import('@fivespan/formats/midi'),
    import('@fivespan/formats/musicxml'),
  ]);
  const engraver = await createEngraver();
  const makers: readonly (readonly [string, () => Promise<Uint8Array> | Uint8Array])[] = [
    ['study.pdf', () => writeHandout(lesson, { view: 'study', paper, engraver })],
    ['play.pdf', () => writeHandout(lesson, { view: 'play', paper, engraver })],
    ['lesson.musicxml', () => new TextEncoder().encode(writeMusicXml(lesson.score))],
    ['lesson.mid', () => writeMidi(lesson.score, lesson.performance)],
  ];
  const files: PackFile[] = [];
  for (const [name, make] of makers) {
    if (progress.cancelled()) break;
    files.push({ name, bytes: await make() });
    progress.report(files.length, makers.length);
  }
  return files;
}

/** Files of a pack in one key; the number progress counts to. */
export const FILES_IN_A_KEY = 4;
