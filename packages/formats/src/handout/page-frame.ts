import { beatTicksOf, type Lesson } from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import type { Block } from './block.ts';
import { HAIRLINE, SOFT, textRun, type Canvas, type Run } from './canvas.ts';
import { REPLACEMENT, fontRuns } from './fonts.ts';
import { breakLines, oneLine } from './paragraph.ts';
import { PAPERS, type Paper } from './pdf-document.ts';
import type { HandoutWords } from './words.ts';

export type View = 'study' | 'play';

/** The part of a page that is printed on, in points. */
export interface Frame {
  readonly leftPt: number;
  readonly rightPt: number;
  readonly widthPt: number;
  readonly topPt: number;
  readonly bottomPt: number;
  readonly footerPt: number;
}

const SIDE_PT = 44;
const TOP_PT = 40;
const FOOTER_PT = 34;
/** Titles are cut after this many lines. */
const TITLE_LINES = 3;

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

/** The lesson's title as one line of text; the word for none where it is empty. */
export function titleOf(lesson: Lesson, words: HandoutWords): string {
  const title = lesson.chart.title.trim();
  return title === '' ? words.untitled : title;
}

/** Title and, below it, key, tempo, feel and which page this is. */
export function titleBlock(canvas: Canvas, lesson: Lesson, view: View, frame: Frame, words: HandoutWords): Block {
  const titlePt = 23;
  const linePt = 10;
  const { key } = lesson.analysis;
  const title = breakLines(
    canvas,
    [textRun(titleOf(lesson, words), 'serif-bold', titlePt)],
    frame.widthPt,
    TITLE_LINES,
  );
  const soft = (text: string): Run => textRun(text, 'sans', linePt, SOFT);
  const left: Run[] = [
    soft(`${words.key(noteText(key.tonic), key.mode)} · `),
    { kind: 'beat', ticks: beatTicksOf(lesson.score.meter), sizePt: linePt * 1.25, colour: SOFT },
    soft(` = ${lesson.score.tempoBpm} · ${words.feel[lesson.score.feel]} · ${words.page[view]}`),
  ];
  const heightPt = title.length * titlePt * 1.2 + linePt * 1.5;
  return {
    heightPt,
    gapPt: 0,
    keepWithNext: true,
    draw: (target, topPt) => {
      title.forEach((line, index) => target.put(line, frame.leftPt, topPt + titlePt * (0.92 + index * 1.2)));
      const baseline = topPt + title.length * titlePt * 1.2 + linePt * 0.95;
      target.put(left, frame.leftPt, baseline);
      if (view === 'study') target.putRight([soft(words.hand(lesson.choices.hand))], frame.rightPt, baseline);
    },
  };
}

/** Title, key and view at the foot; how it was made in the middle; the page's number at the right. */
export function drawFooter(
  canvas: Canvas,
  lesson: Lesson,
  view: View,
  frame: Frame,
  page: number,
  pages: number,
  words: HandoutWords,
): void {
  const sizePt = 7.5;
  const soft = (text: string): Run => textRun(text, 'sans', sizePt, SOFT);
  const tail = soft(
    ` · ${words.key(noteText(lesson.analysis.key.tonic), lesson.analysis.key.mode)} · ${words.view[view]}`,
  );
  const title = oneLine(canvas, [soft(titleOf(lesson, words))], frame.widthPt * 0.38);
  canvas.line(frame.leftPt, frame.footerPt - 12, frame.rightPt, frame.footerPt - 12, 0.5, HAIRLINE);
  canvas.put([...title, tail], frame.leftPt, frame.footerPt);
  if (view === 'study') {
    canvas.putCentred(
      [soft(words.made(lesson.choices.level, lesson.choices.seed))],
      (frame.leftPt + frame.rightPt) / 2,
      frame.footerPt,
    );
  }
  canvas.putRight([soft(words.pageOf(page, pages))], frame.rightPt, frame.footerPt);
}

/** Whether any name the lesson prints has characters that no font has. */
export function hasMissingCharacters(canvas: Canvas, lesson: Lesson): boolean {
  const names = [lesson.chart.title, ...lesson.chart.sections.map((section) => section.name ?? '')];
  return names.some((name) => fontRuns(name, 'serif-bold', canvas.fonts).some((run) => run.text.includes(REPLACEMENT)));
}

/** A heading with a hairline above it; a note at the right where there is one. Stays with what follows. */
export function headingBlock(canvas: Canvas, text: string, note: readonly Run[], frame: Frame): Block {
  const sizePt = 11;
  const heading = textRun(text, 'serif-bold', sizePt);
  const room = frame.widthPt - canvas.widthOf(heading) - 24;
  const right = oneLine(canvas, note, room);
  return {
    heightPt: sizePt * 1.9,
    gapPt: 16,
    keepWithNext: true,
    draw: (target, topPt) => {
      target.line(frame.leftPt, topPt, frame.rightPt, topPt, 0.7);
      target.put([heading], frame.leftPt, topPt + sizePt * 1.55);
      target.putRight(right, frame.rightPt, topPt + sizePt * 1.55);
    },
  };
}

export function noteRuns(text: string): Run[] {
  return [textRun(text, 'sans', 8.5, SOFT)];
}

/** A paragraph as one block. */
export function paragraphBlock(
  canvas: Canvas,
  runs: readonly Run[],
  leftPt: number,
  widthPt: number,
  gapPt: number,
  leadingPt = 13,
): Block {
  const lines = breakLines(canvas, runs, widthPt);
  return {
    heightPt: lines.length * leadingPt,
    gapPt,
    keepWithNext: false,
    draw: (target, topPt) => {
      lines.forEach((line, index) => target.put(line, leftPt, topPt + leadingPt * (index + 0.74)));
    },
  };
}
