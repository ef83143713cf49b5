import type { Lesson } from '@fivespan/core';
import type { Engraver } from '../engraving/index.ts';
import { fitPages, type Block, type PlacedBlock } from './block.ts';
import { Canvas } from './canvas.ts';
import type { HandoutFonts } from './fonts.ts';
import { drawFooter, footerOf, titleOf, type View } from './page-frame.ts';
import { bytesOf, PAPERS, PdfDocument, type Paper } from './pdf-document.ts';
import { frameOf, type Frame } from './printing.ts';
import { playBlocks } from './play-page.ts';
import { CLOSE, ROOMY, type Setting } from './setting.ts';
import { sheetPages } from './sheet-page.ts';
import { studyBlocks } from './study-page.ts';
import { ENGLISH, type HandoutWords } from './words.ts';

export interface HandoutOptions {
  /** 'study' has everything for the desk, 'play' only what the hands need, 'sheet' the most needed of both on one page. */
  readonly view: View;
  readonly paper: Paper;
  /** Reused between handouts. */
  readonly engraver: Engraver;
  /** Parsed once (see openHandoutFonts) and reused between handouts. */
  readonly fonts: HandoutFonts;
  readonly words?: HandoutWords;
}

/** A last page filled less than this share is worth a closer setting, where that saves it. */
const SPARSE = 0.55;
/** Beyond this many pages one more is no matter, and engraving all again takes long. */
const MOST_PAGES_SET_AGAIN = 8;

/** Pages set roomy; closer where that spares a last page with little on it. */
function* pagesOf(
  { topPt, bottomPt }: Frame,
  blocksIn: (setting: Setting) => Generator<void, Block[], undefined>,
): Generator<void, PlacedBlock[][], undefined> {
  const roomy = fitPages(yield* blocksIn(ROOMY), topPt, bottomPt);
  const last = roomy.at(-1)?.at(-1);
  const filled = last === undefined ? 1 : (last.topPt + last.block.heightPt - topPt) / (bottomPt - topPt);
  if (roomy.length < 2 || roomy.length > MOST_PAGES_SET_AGAIN || filled > SPARSE) return roomy;
  const close = fitPages(yield* blocksIn(CLOSE), topPt, bottomPt);
  return close.length < roomy.length ? close : roomy;
}

/**
 * Writes a lesson's handout as a PDF, step by step: vectors, fonts embedded and subset, the same bytes for the same lesson on
 * every machine. Between two steps, about a tenth of a second each on the demo, other work may be done, other handouts too.
 * @returns the steps; the last gives the bytes
 */
export function* handoutSteps(
  lesson: Lesson,
  options: HandoutOptions,
): Generator<void, Promise<Uint8Array>, undefined> {
  const { view, paper, engraver, fonts } = options;
  const words = options.words ?? ENGLISH;
  const document = new PdfDocument(`${titleOf(lesson, words)} · ${words.view[view]}`, words.language);
  const canvas = new Canvas(document, fonts);
  const frame = frameOf(paper);
  const printing = { canvas, engraver, frame, words };
  const pages =
    view === 'sheet'
      ? yield* sheetPages(printing, lesson)
      : yield* pagesOf(frame, (setting) =>
          view === 'study' ? studyBlocks(printing, lesson, setting) : playBlocks(printing, lesson, setting),
        );
  for (const [index, page] of pages.entries()) {
    document.addPage({ size: [...PAPERS[paper]], margin: 0 });
    for (const { block, topPt } of page) block.draw(canvas, topPt);
    drawFooter(printing, lesson, footerOf(lesson, view, words), index + 1, pages.length);
    yield;
  }
  canvas.close();
  return bytesOf(document);
}

/**
 * Writes a lesson's handout as a PDF at one go (see handoutSteps).
 * @example
 * const pdf = await writeHandout(lesson, { view: 'study', paper: 'a4', engraver, fonts });
 */
export async function writeHandout(lesson: Lesson, options: HandoutOptions): Promise<Uint8Array> {
  const steps = handoutSteps(lesson, options);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return await step.value;
  }
}
