import { readerOfFile, type Lesson, type LessonFileName } from '@fivespan/core';
import { tabMarksOf } from '../diagram/index.ts';
import type { Engraver } from '../engraving/index.ts';
import { handoutSteps, type HandoutFonts, type Paper } from '../handout/index.ts';
import { writeMidi } from '../midi/index.ts';
import { writeMusicXml } from '../musicxml/index.ts';
import { makePartFile } from './part-file.ts';

/** What pages are printed with; opened once, for opening takes longer than a page. */
export interface Press {
  readonly engraver: Engraver;
  readonly fonts: HandoutFonts;
}

/** Whether a file is printed: only then is a press needed. */
export function isPrinted(name: LessonFileName): boolean {
  return name.endsWith('.pdf');
}

/**
 * One file of a lesson, step by step, the same bytes wherever it is made. Between two steps other work may be done.
 * @param press for a file that is printed; null for another
 * @throws TypeError where a file is to be printed without a press
 * @returns the steps; the last gives the bytes
 */
export function* packFileSteps(
  name: LessonFileName,
  lesson: Lesson,
  paper: Paper,
  press: Press | null,
): Generator<void, Promise<Uint8Array>, undefined> {
  if (name === 'lesson.musicxml') {
    const thumbMarks = tabMarksOf(lesson);
    return Promise.resolve(new TextEncoder().encode(writeMusicXml(lesson.score, { thumbMarks })));
  }
  if (name === 'lesson.mid') return Promise.resolve(writeMidi(lesson.score, lesson.performance));
  const reader = readerOfFile(name);
  if (reader !== undefined) {
    const ending = isPrinted(name) ? 'pdf' : 'musicxml';
    return makePartFile(reader, ending, lesson, paper, async () => {
      if (press === null) throw new TypeError(`press must be there to print ${name}`);
      return press;
    });
  }
  if (press === null) throw new TypeError(`press must be there to print ${name}`);
  const view = name === 'sheet.pdf' ? 'sheet' : name === 'study.pdf' ? 'study' : 'play';
  return yield* handoutSteps(lesson, { view, paper, ...press });
}

/**
 * One file of a lesson's pack at one go (see packFileSteps).
 * @param openPress called only for a file that is printed
 * @example const bytes = await makePackFile('study.pdf', lesson, 'a4', async () => ({ engraver, fonts }));
 */
export async function makePackFile(
  name: LessonFileName,
  lesson: Lesson,
  paper: Paper,
  openPress: () => Promise<Press>,
): Promise<Uint8Array> {
  const steps = packFileSteps(name, lesson, paper, isPrinted(name) ? await openPress() : null);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return await step.value;
  }
}
