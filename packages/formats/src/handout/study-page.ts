import { beatTicksOf, type Lesson } from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import type { Engraver } from '../engraving/index.ts';
import type { Block } from './block.ts';
import { SOFT, textRun, type Canvas, type Run } from './canvas.ts';
import { writtenBars } from './chart-bars.ts';
import { chartBlocks } from './chart-block.ts';
import { chordRuns, drawTab, tabSize } from './chord-symbol.ts';
import { musicBlocks } from './music-block.ts';
import { hasMissingCharacters, headingBlock, noteRuns, paragraphBlock, titleBlock, type Frame } from './page-frame.ts';
import { breakLines } from './paragraph.ts';
import { chordsWithoutPosition, positionBlocks, shapeDegrees } from './position-blocks.ts';
import { practiceSteps } from './practice-steps.ts';
import { rubbingChords } from './rubs.ts';
import { thumbsOfRoute, usedPositions } from './used-positions.ts';
import type { HandoutWords } from './words.ts';

const TEXT_PT = 9;
const LEADING_PT = 13;

/** What the tabs under the chart mean. */
export function legendBlock(canvas: Canvas, frame: Frame, now: string, other: string): Block {
  const sizePt = 7;
  return {
    heightPt: 13,
    gapPt: 8,
    keepWithNext: false,
    draw: (target, topPt) => {
      const { widthPt } = tabSize(5.4);
      let x = frame.leftPt;
      for (const [kind, text] of [
        ['now', now],
        ['other', other],
      ] as const) {
        drawTab(target, { name: null, kind }, x, topPt + 2, 5.4);
        x += widthPt + 5;
        const run = textRun(text, 'sans', sizePt, SOFT);
        target.put([run], x, topPt + 9);
        x += canvas.widthOf(run) + 18;
      }
    },
  };
}

/** A label at the left and sentences at its right. */
function labelledBlock(
  canvas: Canvas,
  label: readonly Run[],
  sentences: readonly string[],
  frame: Frame,
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
      target.put(label, frame.leftPt, topPt + LEADING_PT * 0.76);
      lines.forEach((line, index) =>
        target.put(line, frame.leftPt + labelWidth, topPt + LEADING_PT * (index + shift + 0.76)),
      );
    },
  };
}

function rubsBlocks(canvas: Canvas, lesson: Lesson, frame: Frame, words: HandoutWords): Block[] {
  const rubbing = rubbingChords(lesson, words);
  if (rubbing.length === 0) {
    return [paragraphBlock(canvas, [textRun(words.nothingRubs, 'sans', TEXT_PT)], frame.leftPt, frame.widthPt, 3)];
  }
  return rubbing.map(({ chord, sentences }, index) =>
    labelledBlock(canvas, chordRuns(chord, TEXT_PT * 1.12), sentences, frame, index === 0 ? 3 : 4),
  );
}

/** Numbered steps at the left, cautions at the right; set like any other sentence. */
function stepsBlock(canvas: Canvas, lesson: Lesson, frame: Frame, words: HandoutWords): Block {
  const gutter = 34;
  const leftWidth = (frame.widthPt - gutter) * 0.58;
  const rightWidth = frame.widthPt - gutter - leftWidth;
  const beat = beatTicksOf(lesson.score.meter);
  const plain = (text: string): Run => textRun(text, 'sans', TEXT_PT);
  const steps = practiceSteps(lesson, words).map((step) => {
    const tempo = step.fromBpm === step.toBpm ? `${step.toBpm}` : `${step.fromBpm}${words.step.fromTo}${step.toBpm}`;
    const runs: Run[] = [
      plain(`${step.text} `),
      { kind: 'beat', ticks: beat, sizePt: TEXT_PT * 1.2, colour: '#1d1b19' },
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
        target.putRight([plain(`${index + 1}.`)], frame.leftPt + 11, y + LEADING_PT * 0.76);
        for (const line of lines) {
          target.put(line, frame.leftPt + 16, y + LEADING_PT * 0.76);
          y += LEADING_PT;
        }
        y += 2;
      });
      cautions.forEach((line, index) =>
        target.put(line, frame.rightPt - rightWidth, topPt + LEADING_PT * (index + 0.76)),
      );
    },
  };
}

/** Everything for the desk: numerals, families, what rubs, the written music, the steps. */
export function studyBlocks(
  canvas: Canvas,
  lesson: Lesson,
  engraver: Engraver,
  frame: Frame,
  words: HandoutWords,
): Block[] {
  const blocks: Block[] = [titleBlock(canvas, lesson, 'study', frame, words)];
  const section = (title: string, note: readonly Run[], content: readonly Block[]): void => {
    if (content.length > 0) blocks.push(headingBlock(canvas, title, note, frame), ...content);
  };
  if (hasMissingCharacters(canvas, lesson)) {
    blocks.push(paragraphBlock(canvas, noteRuns(words.missingCharacters), frame.leftPt, frame.widthPt, 2));
  }
  const sizes = { chordPt: 14.5, numeralPt: 8, tabPt: 7, barsInRow: 4, widthPt: frame.widthPt, leftPt: frame.leftPt };
  blocks.push(...chartBlocks(canvas, writtenBars(lesson, { numerals: true, tabs: 'family' }), sizes, words));

  const positions = usedPositions(lesson);
  if (positions.length > 0) blocks.push(legendBlock(canvas, frame, words.thumbHere, words.thumbElsewhere));
  const shapes = [...new Map(positions.map((used) => [used.position.shape.id, used])).values()];
  const shapeNote = shapes.map((used) => words.shape(used.position.shape.name, shapeDegrees(used))).join('; ');
  const without = chordsWithoutPosition(lesson);
  section(words.whereTheThumbGoes, noteRuns(shapes.length === 1 ? shapeNote : ''), [
    ...(shapes.length > 1 ? [paragraphBlock(canvas, noteRuns(shapeNote), frame.leftPt, frame.widthPt, 0, 12)] : []),
    ...positionBlocks(canvas, positions, { columns: 3, withTheory: true, textPt: 8.5 }, frame, words),
    ...(without.length > 0
      ? [paragraphBlock(canvas, [textRun(words.noPosition(without), 'sans', TEXT_PT)], frame.leftPt, frame.widthPt, 8)]
      : []),
  ]);
  section(words.whatRubs, [], rubsBlocks(canvas, lesson, frame, words));

  const plain = { numerals: false, fingers: false, thumbs: false, staffHeightMm: 5.2 };
  section(
    words.leftHand,
    noteRuns(words.leftHandNote),
    musicBlocks(lesson.score, engraver, { ...plain, parts: ['left hand'] }, frame),
  );
  section(
    words.inThirds,
    noteRuns(words.inThirdsNote),
    musicBlocks(lesson.score, engraver, { ...plain, fingers: true, parts: ['arpeggio study'] }, frame),
  );
  section(
    words.oneWay,
    noteRuns(words.oneWayNote(thumbsOfRoute(lesson).map(noteText).join(' · '))),
    musicBlocks(
      lesson.score,
      engraver,
      { parts: ['right hand', 'left hand'], numerals: true, fingers: true, thumbs: true, staffHeightMm: 5.6 },
      frame,
    ),
  );
  section(words.steps, [], [stepsBlock(canvas, lesson, frame, words)]);
  return blocks;
}
