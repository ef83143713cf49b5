import type { Lesson } from '@fivespan/core';
import type { Engraver } from '../engraving/index.ts';
import type { Block } from './block.ts';
import type { Canvas } from './canvas.ts';
import { isSameEveryTime, playedBars, writtenBars } from './chart-bars.ts';
import { chartBlocks } from './chart-block.ts';
import { musicBlocks } from './music-block.ts';
import { hasMissingCharacters, headingBlock, noteRuns, paragraphBlock, titleBlock, type Frame } from './page-frame.ts';
import { positionBlocks } from './position-blocks.ts';
import { legendBlock } from './study-page.ts';
import { usedPositions } from './used-positions.ts';
import type { HandoutWords } from './words.ts';

/** Only what the hands need, large: the form with the thumb now and next, the keyboards, one chorus. */
export function playBlocks(
  canvas: Canvas,
  lesson: Lesson,
  engraver: Engraver,
  frame: Frame,
  words: HandoutWords,
): Block[] {
  const blocks: Block[] = [titleBlock(canvas, lesson, 'play', frame, words)];
  if (hasMissingCharacters(canvas, lesson)) {
    blocks.push(paragraphBlock(canvas, noteRuns(words.missingCharacters), frame.leftPt, frame.widthPt, 2));
  }
  const content = { numerals: false, tabs: 'route' } as const;
  const bars = isSameEveryTime(lesson) ? writtenBars(lesson, content) : playedBars(lesson, content);
  const sizes = { chordPt: 21, numeralPt: 0, tabPt: 12, barsInRow: 4, widthPt: frame.widthPt, leftPt: frame.leftPt };
  blocks.push(...chartBlocks(canvas, bars, sizes, words));

  const positions = usedPositions(lesson);
  if (positions.length > 0) {
    blocks.push(legendBlock(canvas, frame, words.thumbNow, words.thumbNext));
    blocks.push(
      headingBlock(canvas, words.theHand, [], frame),
      ...positionBlocks(canvas, positions, { columns: 2, withTheory: false, textPt: 12 }, frame, words),
    );
  }
  const music = musicBlocks(
    lesson.score,
    engraver,
    { parts: ['right hand', 'left hand'], numerals: false, fingers: false, thumbs: true, staffHeightMm: 7 },
    frame,
  );
  if (music.length > 0) blocks.push(headingBlock(canvas, words.chorus, [], frame), ...music);
  return blocks;
}
