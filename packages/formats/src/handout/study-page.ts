import { motionOf, stavesOf, voicingsOfLesson, type Lesson } from '@fivespan/core';
import { markOf, noteText, placeMarks, shapeMarks, shapesOfRoute, tabMarksOf } from '../diagram/index.ts';
import type { Block } from './block.ts';
import { textRun, type Run } from './canvas.ts';
import { writtenBars } from './chart-content.ts';
import { chartBlocks } from './chart-block.ts';
import type { ChartBar } from './chart-bar.ts';
import { chordRuns } from './chord-symbol.ts';
import { legendBlock, octaveSigns, type LegendSign } from './legend-block.ts';
import { musicBlocks } from './music-block.ts';
import { headingBlock, missingCharacterBlocks, noteRuns, paragraphBlocks, titleBlock } from './page-frame.ts';
import { breakLines } from './paragraph.ts';
import { chordsWithoutPosition, degreeRun, kindsOfDegrees, positionBlocks } from './position-blocks.ts';
import type { Printing } from './printing.ts';
import { rubbingChords, sayingTheSame } from './rubs.ts';
import { withoutRepeats } from './said-once.ts';
import type { Setting } from './setting.ts';
import { shapeText } from './shape-text.ts';
import { stepsBlock } from './steps-block.ts';
import { positionsOfRoute, usedPositions, type UsedPosition } from './used-positions.ts';

const TEXT_PT = 9;
const LEGEND_PT = 7.5;

/** A label at the left and sentences at its right. */
function labelledBlock(
  { canvas, frame }: Printing,
  label: readonly Run[],
  sentences: readonly string[],
  gapPt: number,
  leadingPt: number,
): Block {
  // a column has less room for it
  const labelWidth = frame.widthPt < 300 ? 62 : 82;
  const wide = canvas.widthOfAll(label) > labelWidth - 8;
  const lines = breakLines(canvas, [textRun(sentences.join(' '), 'sans', TEXT_PT)], frame.widthPt - labelWidth);
  const shift = wide ? 1 : 0;
  return {
    heightPt: (lines.length + shift) * leadingPt,
    gapPt,
    keepWithNext: false,
    draw: (target, topPt) => {
      target.tagged('P', () => {
        target.put(label, frame.leftPt, topPt + leadingPt * 0.76);
        lines.forEach((line, index) =>
          target.put(line, frame.leftPt + labelWidth, topPt + leadingPt * (index + shift + 0.76)),
        );
      });
    },
  };
}

/** What rubs over which chord, and where it goes. @param most how many chords are listed; the others are counted */
export function rubsBlocks(printing: Printing, lesson: Lesson, leadingPt: number, most = Infinity): Block[] {
  const rubbing = rubbingChords(lesson, printing.words);
  if (rubbing.length === 0)
    return paragraphBlocks(printing, [textRun(printing.words.nothingRubs, 'sans', TEXT_PT)], 3, leadingPt);
  const said = sayingTheSame(rubbing);
  const rest = said.slice(most).reduce((sum, { chords }) => sum + chords.length, 0);
  return [
    ...said.slice(0, most).map(({ chords, sentences }, index) => {
      const label = chords.flatMap((chord, place) => [
        ...(place === 0 ? [] : [textRun(', ', 'sans', TEXT_PT)]),
        ...chordRuns(chord, TEXT_PT * 1.12),
      ]);
      return labelledBlock(printing, label, sentences, index === 0 ? 3 : 4, leadingPt);
    }),
    ...(rest > 0 ? paragraphBlocks(printing, noteRuns(printing.words.moreRubs(rest)), 4, leadingPt) : []),
  ];
}

/** The signs that this page has, with their meaning. */
function legendSigns({ words }: Printing, bars: readonly ChartBar[], positions: readonly UsedPosition[]): LegendSign[] {
  const tabs = new Set(bars.flatMap((bar) => bar.slots.flatMap((slot) => slot.tabs.map((tab) => tab.kind))));
  const kinds = kindsOfDegrees(positions);
  const ofTabs = [
    { sign: 'now', text: words.thumbHere },
    { sign: 'other', text: words.thumbElsewhere },
  ] as const;
  const ofDegrees = (['chord tone', 'tension', 'rubs'] as const)
    .filter((kind) => kinds.has(kind))
    .map((kind) => ({ sign: degreeRun(words.degreeLook[kind], kind, LEGEND_PT), text: words.degreeKind[kind] }));
  return [...ofTabs.filter(({ sign }) => tabs.has(sign)), ...ofDegrees];
}

/** Blocks that belong to what comes after them. */
function kept(blocks: readonly Block[]): Block[] {
  return blocks.map((block) => ({ ...block, keepWithNext: true }));
}

/** Everything for the desk: numerals, families, what rubs, the written music, the steps. */
export function* studyBlocks(
  printing: Printing,
  lesson: Lesson,
  { leadingPt, captionPt, staffMm }: Setting,
): Generator<void, Block[], undefined> {
  const { words } = printing;
  const { score } = lesson;
  const blocks: Block[] = [titleBlock(printing, lesson, 'study'), ...missingCharacterBlocks(printing, lesson)];
  const section = (title: string, note: string, content: readonly Block[]): void => {
    if (content.length > 0) blocks.push(headingBlock(printing, title, noteRuns(note)), ...content);
  };
  const bars = writtenBars(lesson, { numerals: true, tabs: 'family' });
  blocks.push(...chartBlocks(printing, bars, { chordPt: 14.5, numeralPt: 8, tabPt: 7, barsInRow: 4 }));

  const positions = usedPositions(lesson);
  const signs = [...legendSigns(printing, bars, positions), ...octaveSigns(printing, lesson, LEGEND_PT)];
  if (signs.length > 0) blocks.push(legendBlock(printing, signs, LEGEND_PT));

  const marks = shapeMarks(lesson);
  const placed = placeMarks(lesson);
  const shapes = shapesOfRoute(lesson);
  const shapeNote = words.shapes(
    shapes.map((shape) => ({ mark: markOf(marks, shape), shape: shapeText(shape, words) })),
  );
  const without = chordsWithoutPosition(lesson);
  section(words.whereTheThumbGoes, shapes.length === 1 ? shapeNote : '', [
    ...(shapes.length > 1 ? kept(paragraphBlocks(printing, noteRuns(shapeNote), 0, 12)) : []),
    ...positionBlocks(printing, positions, { columns: 3, withTheory: true, textPt: captionPt }, placed),
    ...(without.length > 0
      ? paragraphBlocks(printing, [textRun(words.noPosition(without), 'sans', TEXT_PT)], 8, leadingPt)
      : []),
  ]);
  section(words.whatRubs, '', rubsBlocks(printing, lesson, leadingPt));

  const alone = { numerals: false, fingers: false, thumbs: false, tabMarks: [], staffHeightMm: staffMm.alone };
  yield;
  section(
    words.leftHand,
    words.leftHandNote(lesson.choices.level),
    musicBlocks(printing, score, words.leftHand, { ...alone, parts: ['left hand'] }),
  );
  yield;
  section(
    words.voicings,
    words.voicingsNote(lesson.choices.voicings, motionOf(voicingsOfLesson(lesson)).total),
    musicBlocks(printing, score, words.voicings, { ...alone, parts: stavesOf('voicings') }),
  );
  yield;
  const thirds = withoutRepeats(score, stavesOf('study'));
  section(
    words.inThirds,
    [words.inThirdsNote, ...thirds.again.map(words.again)].join('; '),
    musicBlocks(printing, thirds.score, words.inThirds, { ...alone, fingers: true, parts: stavesOf('study') }),
  );
  yield;
  section(
    words.oneWay,
    words.oneWayNote(
      positionsOfRoute(lesson)
        .map(({ position, thumbMidi }) => noteText(position.thumb) + placed(position, thumbMidi))
        .join(' · '),
    ),
    musicBlocks(printing, score, words.oneWay, {
      parts: stavesOf('piano'),
      numerals: true,
      fingers: true,
      thumbs: true,
      staffHeightMm: staffMm.grand,
      tabMarks: tabMarksOf(lesson),
    }),
  );
  yield;
  section(words.steps, '', [stepsBlock(printing, lesson, leadingPt)]);
  return blocks;
}
