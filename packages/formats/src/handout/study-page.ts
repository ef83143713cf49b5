import { beatTicksOf, type Lesson } from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import type { Block } from './block.ts';
import { INK, readText, textRun, type Run } from './canvas.ts';
import { writtenBars } from './chart-content.ts';
import { chartBlocks } from './chart-block.ts';
import type { ChartBar } from './chart-bar.ts';
import { chordRuns } from './chord-symbol.ts';
import { legendBlock, type LegendSign } from './legend-block.ts';
import { musicBlocks, tabMarksOf } from './music-block.ts';
import { headingBlock, missingCharacterBlocks, noteRuns, paragraphBlocks, titleBlock } from './page-frame.ts';
import { breakLines } from './paragraph.ts';
import { chordsWithoutPosition, degreeRun, kindsOfDegrees, positionBlocks } from './position-blocks.ts';
import { practiceSteps } from './practice-steps.ts';
import type { Printing } from './printing.ts';
import { rubbingChords } from './rubs.ts';
import { markOf, shapeMarks, shapesOfRoute } from './shape-mark.ts';
import { shapeText } from './shape-text.ts';
import { positionsOfRoute, usedPositions, type UsedPosition } from './used-positions.ts';

const TEXT_PT = 9;
const LEADING_PT = 13;
const LEGEND_PT = 7.5;

/** A label at the left and sentences at its right. */
function labelledBlock(
  { canvas, frame }: Printing,
  label: readonly Run[],
  sentences: readonly string[],
  gapPt: number,
): Block {
  const labelWidth = 82;
  const wide = canvas.widthOfAll(label) > labelWidth - 8;
  const lines = breakLines(canvas, [textRun(sentences.join(' '), 'sans', TEXT_PT)], frame.widthPt - labelWidth);
  const shift = wide ? 1 : 0;
  return {
    heightPt: (lines.length + shift) * LEADING_PT,
    gapPt,
    keepWithNext: false,
    draw: (target, topPt) => {
      target.tagged('P', () => {
        target.put(label, frame.leftPt, topPt + LEADING_PT * 0.76);
        lines.forEach((line, index) =>
          target.put(line, frame.leftPt + labelWidth, topPt + LEADING_PT * (index + shift + 0.76)),
        );
      });
    },
  };
}

function rubsBlocks(printing: Printing, lesson: Lesson): Block[] {
  const rubbing = rubbingChords(lesson, printing.words);
  if (rubbing.length === 0) return paragraphBlocks(printing, [textRun(printing.words.nothingRubs, 'sans', TEXT_PT)], 3);
  return rubbing.map(({ chord, sentences }, index) =>
    labelledBlock(printing, chordRuns(chord, TEXT_PT * 1.12), sentences, index === 0 ? 3 : 4),
  );
}

/** Numbered steps at the left, cautions at the right; set like any other sentence. */
function stepsBlock({ canvas, frame, words }: Printing, lesson: Lesson): Block {
  const gutter = 34;
  const leftWidth = (frame.widthPt - gutter) * 0.58;
  const rightWidth = frame.widthPt - gutter - leftWidth;
  const beat = beatTicksOf(lesson.score.meter);
  const plain = (text: string): Run => textRun(text, 'sans', TEXT_PT);
  const steps = practiceSteps(lesson, words).map((step) => {
    const tempo = step.fromBpm === step.toBpm ? `${step.toBpm}` : `${step.fromBpm}${words.step.fromTo}${step.toBpm}`;
    const runs: Run[] = [
      plain(`${step.text} `),
      { kind: 'beat', ticks: beat, sizePt: TEXT_PT * 1.2, colour: INK },
      plain('\u00A0=\u00A0'),
      plain(`${tempo}.`),
    ];
    return breakLines(canvas, runs, leftWidth - 16);
  });
  const cautions = breakLines(canvas, [plain(words.cautions.join(' '))], rightWidth);
  const stepLines = steps.reduce((sum, lines) => sum + lines.length, 0);
  const heightPt = Math.max(stepLines * LEADING_PT + (steps.length - 1) * 2, cautions.length * LEADING_PT);
  return {
    heightPt,
    gapPt: 3,
    keepWithNext: false,
    draw: (target, topPt) => {
      let y = topPt;
      steps.forEach((lines, index) => {
        target.tagged(
          'P',
          () => {
            target.putRight([plain(`${index + 1}.`)], frame.leftPt + 11, y + LEADING_PT * 0.76);
            for (const line of lines) {
              target.put(line, frame.leftPt + 16, y + LEADING_PT * 0.76);
              y += LEADING_PT;
            }
          },
          `${index + 1}. ${lines.map(readText).join(' ')}`,
        );
        y += 2;
      });
      target.tagged('P', () =>
        cautions.forEach((line, index) =>
          target.put(line, frame.rightPt - rightWidth, topPt + LEADING_PT * (index + 0.76)),
        ),
      );
    },
  };
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
export function studyBlocks(printing: Printing, lesson: Lesson): Block[] {
  const { words } = printing;
  const { score } = lesson;
  const blocks: Block[] = [titleBlock(printing, lesson, 'study'), ...missingCharacterBlocks(printing, lesson)];
  const section = (title: string, note: string, content: readonly Block[]): void => {
    if (content.length > 0) blocks.push(headingBlock(printing, title, noteRuns(note)), ...content);
  };
  const bars = writtenBars(lesson, { numerals: true, tabs: 'family' });
  blocks.push(...chartBlocks(printing, bars, { chordPt: 14.5, numeralPt: 8, tabPt: 7, barsInRow: 4 }));

  const positions = usedPositions(lesson);
  const signs = legendSigns(printing, bars, positions);
  if (signs.length > 0) blocks.push(legendBlock(printing, signs, LEGEND_PT));

  const marks = shapeMarks(lesson);
  const shapes = shapesOfRoute(lesson);
  const shapeNote = words.shapes(
    shapes.map((shape) => ({ mark: markOf(marks, shape), shape: shapeText(shape, words) })),
  );
  const without = chordsWithoutPosition(lesson);
  section(words.whereTheThumbGoes, shapes.length === 1 ? shapeNote : '', [
    ...(shapes.length > 1 ? kept(paragraphBlocks(printing, noteRuns(shapeNote), 0, 12)) : []),
    ...positionBlocks(printing, positions, { columns: 3, withTheory: true, textPt: 8.5 }, marks),
    ...(without.length > 0 ? paragraphBlocks(printing, [textRun(words.noPosition(without), 'sans', TEXT_PT)], 8) : []),
  ]);
  section(words.whatRubs, '', rubsBlocks(printing, lesson));

  const alone = { numerals: false, fingers: false, thumbs: false, tabMarks: [], staffHeightMm: 5.2 };
  section(
    words.leftHand,
    words.leftHandNote(lesson.choices.level),
    musicBlocks(printing, score, words.leftHand, { ...alone, parts: ['left hand'] }),
  );
  section(
    words.inThirds,
    words.inThirdsNote,
    musicBlocks(printing, score, words.inThirds, { ...alone, fingers: true, parts: ['arpeggio study'] }),
  );
  section(
    words.oneWay,
    words.oneWayNote(
      positionsOfRoute(lesson)
        .map((each) => noteText(each.thumb) + markOf(marks, each.shape))
        .join(' · '),
    ),
    musicBlocks(printing, score, words.oneWay, {
      parts: ['right hand', 'left hand'],
      numerals: true,
      fingers: true,
      thumbs: true,
      staffHeightMm: 5.6,
      tabMarks: tabMarksOf(lesson),
    }),
  );
  section(words.steps, '', [stepsBlock(printing, lesson)]);
  return blocks;
}
