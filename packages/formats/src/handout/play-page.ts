import { stavesOf, type Lesson } from '@fivespan/core';
import { markOf, placeMarks, shapeMarks, tabMarksOf } from '../diagram/index.ts';
import type { Block } from './block.ts';
import { isSameEveryTime, playedBars, writtenBars } from './chart-content.ts';
import { chartBlocks } from './chart-block.ts';
import { legendBlock, octaveSigns } from './legend-block.ts';
import { musicBlocks } from './music-block.ts';
import { headingBlock, missingCharacterBlocks, titleBlock } from './page-frame.ts';
import { positionBlocks } from './position-blocks.ts';
import type { Printing } from './printing.ts';
import type { Setting } from './setting.ts';
import { usedPositions } from './used-positions.ts';
import { freedomOf, freePositions, isSameFreedomEveryTime } from './freedom.ts';

/** Only what the hands need, large: the form with the thumb now and next, the keyboards, one chorus. */
export function* playBlocks(
  printing: Printing,
  lesson: Lesson,
  { staffMm }: Setting,
): Generator<void, Block[], undefined> {
  const { words } = printing;
  const freedom = lesson.choices.playPage === 'free hand' ? freedomOf(lesson) : null;
  const blocks: Block[] = [titleBlock(printing, lesson, 'play'), ...missingCharacterBlocks(printing, lesson)];
  const content = { numerals: false, tabs: freedom === null ? 'route' : 'free' } as const;
  const isSame = freedom === null ? isSameEveryTime(lesson) : isSameFreedomEveryTime(lesson, freedom);
  const bars = isSame ? writtenBars(lesson, content) : playedBars(lesson, content);
  blocks.push(...chartBlocks(printing, bars, { chordPt: 21, numeralPt: 0, tabPt: 12, barsInRow: 4 }));

  const positions = freedom === null ? usedPositions(lesson) : freePositions(lesson, freedom);
  if (positions.length > 0) {
    const marks = freedom?.marks ?? shapeMarks(lesson);
    const others = [...new Set(marks.values())].filter((mark) => mark !== '');
    const isSecondThere = bars.some((bar) => bar.slots.some(({ tabs }) => tabs.some(({ kind }) => kind === 'second')));
    const moves = bars.some((bar) => bar.slots.some((slot) => slot.next !== null));
    blocks.push(
      legendBlock(
        printing,
        freedom === null
          ? [
              { sign: 'now', text: words.thumbNow },
              ...(moves ? [{ sign: 'next', text: words.thumbNext } as const] : []),
              ...octaveSigns(printing, lesson, 11),
            ]
          : [
              { sign: 'may', text: words.thumbMay },
              ...(isSecondThere ? [{ sign: 'second', text: words.thumbSecond } as const] : []),
            ],
        11,
        others.length === 0 ? '' : words.otherShapes(others),
      ),
      headingBlock(printing, words.theHand, []),
      ...positionBlocks(
        printing,
        positions,
        { columns: freedom === null ? 2 : 3, withTheory: false, textPt: 12 },
        freedom === null ? placeMarks(lesson) : ({ shape }) => markOf(freedom.marks, shape),
      ),
    );
  }
  yield;
  const music = musicBlocks(printing, lesson.score, words.chorus, {
    parts: stavesOf('piano'),
    numerals: false,
    fingers: false,
    thumbs: true,
    staffHeightMm: staffMm.play,
    tabMarks: tabMarksOf(lesson),
  });
  yield;
  if (music.length > 0) blocks.push(headingBlock(printing, words.chorus, []), ...music);
  return blocks;
}
