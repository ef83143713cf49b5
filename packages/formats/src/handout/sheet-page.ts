import { stavesOf, type Lesson } from '@fivespan/core';
import { markOf, noteText, placeMarks, shapeMarks, shapesOfRoute, tabMarksOf } from '../diagram/index.ts';
import { fitPages, type Block, type PlacedBlock } from './block.ts';
import type { Canvas } from './canvas.ts';
import { chartBlocks } from './chart-block.ts';
import { writtenBars } from './chart-content.ts';
import { busiestPhrase, type Excerpt } from './excerpt.ts';
import { musicBlocks } from './music-block.ts';
import { headingBlock, missingCharacterBlocks, noteRuns, paragraphBlocks, titleBlock } from './page-frame.ts';
import { positionBlocks } from './position-blocks.ts';
import type { Printing } from './printing.ts';
import { CLOSE } from './setting.ts';
import { shapeText } from './shape-text.ts';
import { stepsColumn } from './steps-block.ts';
import { rubsBlocks } from './study-page.ts';
import { usedPositions } from './used-positions.ts';

/** How much of what a page has room for, and how large. */
interface Fill {
  readonly chordPt: number;
  readonly barsInRow: number;
  readonly positions: number;
  readonly withMusic: boolean;
  /** Chords listed under 'what rubs'; none leaves it and the steps out. */
  readonly rubs: number;
}

/** From everything to the chart alone: the first that fits a page is taken. */
const FILLS: readonly Fill[] = [
  { chordPt: 17, barsInRow: 4, positions: 8, withMusic: true, rubs: 3 },
  { chordPt: 14.5, barsInRow: 4, positions: 8, withMusic: true, rubs: 3 },
  { chordPt: 13, barsInRow: 4, positions: 8, withMusic: true, rubs: 2 },
  { chordPt: 12, barsInRow: 4, positions: 8, withMusic: true, rubs: 1 },
  { chordPt: 13, barsInRow: 4, positions: 4, withMusic: true, rubs: 2 },
  { chordPt: 12, barsInRow: 4, positions: 4, withMusic: false, rubs: 2 },
  { chordPt: 11, barsInRow: 8, positions: 4, withMusic: false, rubs: 2 },
  { chordPt: 11, barsInRow: 8, positions: 4, withMusic: false, rubs: 0 },
  { chordPt: 10, barsInRow: 8, positions: 0, withMusic: false, rubs: 0 },
];

const COLUMNS = 4;
const CAPTION_PT = 7.8;
const STAFF_MM = 4.9;
const GUTTER_PT = 30;

/** Two columns of blocks as one block. */
function beside(left: readonly Block[], right: readonly Block[]): Block {
  const heightOf = (blocks: readonly Block[]): number =>
    blocks.reduce((sum, block, index) => sum + block.heightPt + (index === 0 ? 0 : block.gapPt), 0);
  const draw = (canvas: Canvas, blocks: readonly Block[], topPt: number): void => {
    let y = topPt;
    blocks.forEach((block, index) => {
      if (index > 0) y += block.gapPt;
      block.draw(canvas, y);
      y += block.heightPt;
    });
  };
  return {
    heightPt: Math.max(heightOf(left), heightOf(right)),
    gapPt: 14,
    keepWithNext: false,
    draw: (canvas, topPt) => {
      draw(canvas, left, topPt);
      draw(canvas, right, topPt);
    },
  };
}

/** Left and right half of what is printed on. */
function halves(printing: Printing): readonly [Printing, Printing] {
  const { frame } = printing;
  const widthPt = (frame.widthPt - GUTTER_PT) / 2;
  return [
    { ...printing, frame: { ...frame, widthPt, rightPt: frame.leftPt + widthPt } },
    { ...printing, frame: { ...frame, widthPt, leftPt: frame.rightPt - widthPt } },
  ];
}

function rubsAndSteps(printing: Printing, lesson: Lesson, rubs: number, written: Excerpt | undefined): Block {
  const { words } = printing;
  const [left, right] = halves(printing);
  return beside(
    [headingBlock(left, words.whatRubs, []), ...rubsBlocks(left, lesson, CLOSE.leadingPt, rubs)],
    [headingBlock(right, words.steps, []), stepsColumn(right, lesson, CLOSE.leadingPt, written)],
  );
}

/**
 * A page to hand out: the chart with every thumb of the family, where the thumb goes, the busiest phrase written out, what rubs
 * and the steps. Where the chart is long the least needed is left out; a chart that fills more than a page goes on.
 */
export function* sheetPages(printing: Printing, lesson: Lesson): Generator<void, PlacedBlock[][], undefined> {
  const { words, frame } = printing;
  const marks = shapeMarks(lesson);
  const shapeNote = words.shapes(
    shapesOfRoute(lesson).map((shape) => ({ mark: markOf(marks, shape), shape: shapeText(shape, words) })),
  );
  const phrase = busiestPhrase(lesson.score);
  const tabMarks =
    phrase === undefined
      ? []
      : tabMarksOf(lesson).slice(phrase.firstThumb, phrase.firstThumb + phrase.score.thumbs.length);
  const music =
    phrase === undefined
      ? []
      : musicBlocks(printing, phrase.score, words.oneWay, {
          parts: stavesOf('piano'),
          numerals: false,
          fingers: true,
          thumbs: true,
          tabMarks,
          staffHeightMm: STAFF_MM,
        });
  yield;
  const positions = usedPositions(lesson);
  const bars = writtenBars(lesson, { numerals: true, tabs: 'family' });
  let pages: PlacedBlock[][] = [];
  for (const fill of FILLS) {
    const blocks: Block[] = [titleBlock(printing, lesson, 'sheet'), ...missingCharacterBlocks(printing, lesson)];
    const { chordPt, barsInRow } = fill;
    blocks.push(...chartBlocks(printing, bars, { chordPt, numeralPt: chordPt * 0.56, tabPt: 7, barsInRow }));
    const shown = positions.slice(0, fill.positions);
    if (shown.length > 0) {
      const grid = { columns: COLUMNS, withTheory: true, isBrief: true, textPt: CAPTION_PT };
      const rest = positions.length - shown.length;
      blocks.push(
        headingBlock(printing, words.whereTheThumbGoes, noteRuns(shapeNote)),
        ...positionBlocks(printing, shown, grid, placeMarks(lesson)),
        ...(rest > 0 ? paragraphBlocks(printing, noteRuns(words.morePositions(rest)), 4, CLOSE.leadingPt) : []),
      );
    }
    if (fill.withMusic && music.length > 0 && phrase !== undefined) {
      const thumbs = phrase.score.thumbs
        .map(({ thumb }, index) => noteText(thumb) + (tabMarks[index] ?? ''))
        .join(' · ');
      const title = words.oneWayOf(phrase.from, phrase.to);
      blocks.push(headingBlock(printing, title, noteRuns(words.oneWayNote(thumbs))), ...music);
    }
    if (fill.rubs > 0) blocks.push(rubsAndSteps(printing, lesson, fill.rubs, fill.withMusic ? phrase : undefined));
    pages = fitPages(blocks, frame.topPt, frame.bottomPt);
    yield;
    if (pages.length === 1) break;
  }
  return pages;
}
