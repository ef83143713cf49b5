import { beatTicksOf, type Lesson } from '@fivespan/core';
import type { Block } from './block.ts';
import { INK, readText, textRun, type Canvas, type Run } from './canvas.ts';
import { breakLines, type Line } from './paragraph.ts';
import { practiceSteps } from './practice-steps.ts';
import type { Printing } from './printing.ts';

const TEXT_PT = 9;

/** A numbered step broken into lines. */
interface StepLines {
  readonly number: string;
  readonly lines: readonly Line[];
}

const STEP_INDENT_PT = 16;
const STEP_GAP_PT = 2;

function stepLines(
  { canvas, words }: Printing,
  lesson: Lesson,
  widthPt: number,
  written?: Parameters<typeof practiceSteps>[2],
): StepLines[] {
  const beat = beatTicksOf(lesson.score.meter);
  const plain = (text: string): Run => textRun(text, 'sans', TEXT_PT);
  return practiceSteps(lesson, words, written).map((step, index) => {
    const tempo = step.fromBpm === step.toBpm ? `${step.toBpm}` : `${step.fromBpm}${words.step.fromTo}${step.toBpm}`;
    const runs: Run[] = [
      plain(`${step.text} `),
      { kind: 'beat', ticks: beat, sizePt: TEXT_PT * 1.2, colour: INK },
      plain('\u00A0=\u00A0'),
      plain(`${tempo}.`),
    ];
    return { number: `${index + 1}.`, lines: breakLines(canvas, runs, widthPt - STEP_INDENT_PT) };
  });
}

function heightOfSteps(steps: readonly StepLines[], leadingPt: number): number {
  const lines = steps.reduce((sum, step) => sum + step.lines.length, 0);
  return lines * leadingPt + Math.max(0, steps.length - 1) * STEP_GAP_PT;
}

function drawSteps(target: Canvas, steps: readonly StepLines[], xPt: number, topPt: number, leadingPt: number): void {
  let y = topPt;
  for (const { number, lines } of steps) {
    target.tagged(
      'P',
      () => {
        target.putRight([textRun(number, 'sans', TEXT_PT)], xPt + 11, y + leadingPt * 0.76);
        for (const line of lines) {
          target.put(line, xPt + STEP_INDENT_PT, y + leadingPt * 0.76);
          y += leadingPt;
        }
      },
      `${number} ${lines.map(readText).join(' ')}`,
    );
    y += STEP_GAP_PT;
  }
}

/** Numbered steps in a column, and the cautions in a line below. */
export function stepsColumn(
  printing: Printing,
  lesson: Lesson,
  leadingPt: number,
  written?: Parameters<typeof practiceSteps>[2],
): Block {
  const { canvas, frame, words } = printing;
  const steps = stepLines(printing, lesson, frame.widthPt, written);
  const height = heightOfSteps(steps, leadingPt);
  const cautions = breakLines(canvas, [textRun(words.cautionsShort, 'sans', TEXT_PT)], frame.widthPt);
  return {
    heightPt: height + 4 + cautions.length * leadingPt,
    gapPt: 3,
    keepWithNext: false,
    draw: (target, topPt) => {
      drawSteps(target, steps, frame.leftPt, topPt, leadingPt);
      target.tagged('P', () =>
        cautions.forEach((line, index) =>
          target.put(line, frame.leftPt, topPt + height + 4 + leadingPt * (index + 0.76)),
        ),
      );
    },
  };
}

/** The steps' share of the width: what most of them need to stand on one line each. */
const STEPS_SHARE = 0.64;

/** Numbered steps at the left, cautions at the right; set like any other sentence. */
export function stepsBlock(printing: Printing, lesson: Lesson, leadingPt: number): Block {
  const { canvas, frame, words } = printing;
  const gutter = 28;
  const stepWidth = (frame.widthPt - gutter) * STEPS_SHARE;
  const cautionWidth = frame.widthPt - gutter - stepWidth;
  const steps = stepLines(printing, lesson, stepWidth);
  const cautions = breakLines(canvas, [textRun(words.cautions.join(' '), 'sans', TEXT_PT)], cautionWidth);
  return {
    heightPt: Math.max(heightOfSteps(steps, leadingPt), cautions.length * leadingPt),
    gapPt: 3,
    keepWithNext: false,
    draw: (target, topPt) => {
      drawSteps(target, steps, frame.leftPt, topPt, leadingPt);
      target.tagged('P', () =>
        cautions.forEach((line, index) =>
          target.put(line, frame.rightPt - cautionWidth, topPt + leadingPt * (index + 0.76)),
        ),
      );
    },
  };
}
