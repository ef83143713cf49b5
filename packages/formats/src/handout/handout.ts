import type { Lesson } from '@fivespan/core';
import type { Engraver } from '../engraving/index.ts';
import { fitPages } from './block.ts';
import { Canvas } from './canvas.ts';
import type { HandoutFonts } from './fonts.ts';
import { drawFooter, titleOf, type View } from './page-frame.ts';
import { bytesOf, PAPERS, PdfDocument, type Paper } from './pdf-document.ts';
import { frameOf } from './printing.ts';
import { playBlocks } from './play-page.ts';
import { studyBlocks } from './study-page.ts';
import { ENGLISH, type HandoutWords } from './words.ts';

export interface HandoutOptions {
  /** 'study' has everything for the desk, 'play' only what the hands need. */
  readonly view: View;
  readonly paper: Paper;
  /** Reused between handouts. */
  readonly engraver: Engraver;
  /** Parsed once (see openHandoutFonts) and reused between handouts. */
  readonly fonts: HandoutFonts;
  readonly words?: HandoutWords;
}

/**
 * Writes a lesson's handout as a PDF: vectors, fonts embedded and subset, the same bytes for the same lesson on every
 * machine.
 * @example
 * const pdf = await writeHandout(lesson, { view: 'study', paper: 'a4', engraver, fonts });
 */
export async function writeHandout(lesson: Lesson, options: HandoutOptions): Promise<Uint8Array> {
  const { view, paper, engraver, fonts } = options;
  const words = options.words ?? ENGLISH;
  const document = new PdfDocument(`${titleOf(lesson, words)} · ${words.view[view]}`, words.language);
  const canvas = new Canvas(document, fonts);
  const frame = frameOf(paper);
  const printing = { canvas, engraver, frame, words };
  const blocks = view === 'study' ? studyBlocks(printing, lesson) : playBlocks(printing, lesson);
  const pages = fitPages(blocks, frame.topPt, frame.bottomPt);
  pages.forEach((page, index) => {
    document.addPage({ size: [...PAPERS[paper]], margin: 0 });
    for (const { block, topPt } of page) block.draw(canvas, topPt);
    drawFooter(printing, lesson, view, index + 1, pages.length);
  });
  canvas.close();
  return bytesOf(document);
}
