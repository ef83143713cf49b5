import type { Engraver } from '../engraving/index.ts';
import type { Canvas } from './canvas.ts';
import { PAPERS, type Paper } from './pdf-document.ts';
import type { HandoutWords } from './words.ts';

/** The part of a page that is printed on, in points. */
export interface Frame {
  readonly leftPt: number;
  readonly rightPt: number;
  readonly widthPt: number;
  readonly topPt: number;
  readonly bottomPt: number;
  readonly footerPt: number;
}

/** What every block of one handout needs to measure itself and to draw. */
export interface Printing {
  readonly canvas: Canvas;
  readonly engraver: Engraver;
  readonly frame: Frame;
  readonly words: HandoutWords;
}

const SIDE_PT = 44;
const TOP_PT = 40;
const FOOTER_PT = 34;

export function frameOf(paper: Paper): Frame {
  const [width, height] = PAPERS[paper];
  return {
    leftPt: SIDE_PT,
    rightPt: width - SIDE_PT,
    widthPt: width - 2 * SIDE_PT,
    topPt: TOP_PT,
    bottomPt: height - FOOTER_PT - 20,
    footerPt: height - FOOTER_PT,
  };
}
