import type { Lesson, PackFileName } from '@fivespan/core';
import type { Engraver } from '../engraving/index.ts';
import { writeHandout, type HandoutFonts, type Paper } from '../handout/index.ts';
import { writeMidi } from '../midi/index.ts';
import { writeMusicXml } from '../musicxml/index.ts';

/** What pages are printed with; opened once, for opening takes longer than a page. */
export interface Press {
  readonly engraver: Engraver;
  readonly fonts: HandoutFonts;
}

/**
 * One file of a lesson's pack, the same bytes wherever it is made.
 * @param openPress called only for a file that is printed
 * @example const bytes = await makePackFile('study.pdf', lesson, 'a4', async () => ({ engraver, fonts }));
 */
export async function makePackFile(
  name: PackFileName,
  lesson: Lesson,
  paper: Paper,
  openPress: () => Promise<Press>,
): Promise<Uint8Array> {
  switch (name) {
    case 'study.pdf':
      return await writeHandout(lesson, { view: 'study', paper, ...(await openPress()) });
    case 'play.pdf':
      return await writeHandout(lesson, { view: 'play', paper, ...(await openPress()) });
    case 'lesson.musicxml':
      return new TextEncoder().encode(writeMusicXml(lesson.score));
    case 'lesson.mid':
      return writeMidi(lesson.score, lesson.performance);
  }
}
