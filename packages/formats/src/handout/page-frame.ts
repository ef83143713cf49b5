import { beatTicksOf, isCompound, type Lesson } from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import type { Block } from './block.ts';
import { HAIRLINE, readText, SOFT, textRun, type Canvas, type Run } from './canvas.ts';
import { REPLACEMENT, fontRuns } from './fonts.ts';
import { breakLines, oneLine } from './paragraph.ts';
import type { Printing } from './printing.ts';
import type { HandoutWords } from './words.ts';

/** Everything for the desk; only what the hands need; both on one page, to hand out. */
export type View = 'study' | 'play' | 'sheet';

/** Titles are cut after this many lines. */
const TITLE_LINES = 3;

/** The lesson's title as one line of text; the word for none where it is empty. */
export function titleOf(lesson: Lesson, words: HandoutWords): string {
  const title = lesson.chart.title.trim();
  return title === '' ? words.untitled : title;
}

/**
 * Swing or even, where the tune has a bar that could swing; compound metres and those counted in eighths do not. Common
 * practice.
 */
function feelOf({ score }: Lesson, words: HandoutWords): string[] {
  const couldSwing = score.bars.some(({ meter }) => !isCompound(meter) && meter.unit <= 4);
  return couldSwing ? [words.feel[score.feel]] : [];
}

/** Between a title and what stands beside it. */
const TITLE_GAP_PT = 14;

/** What the line beside a title says. */
export interface TitleLine {
  /** The key, before the tempo. */
  readonly key: string;
  /** Which page this is, after tempo and feel. */
  readonly page: string;
  /** At the right end; empty for nothing. */
  readonly right: string;
  readonly sizePt: number;
}

/** Title and, beside or below it, key, tempo, feel and which page this is. */
export function titleBlock(printing: Printing, lesson: Lesson, view: View): Block {
  const { words } = printing;
  const { key } = lesson.analysis;
  return titleLineBlock(printing, lesson, {
    key: words.key(noteText(key.tonic), key.mode),
    page: words.page[view],
    right: view === 'play' ? '' : words.hand(lesson.choices.hand),
    // the play page stands on a music desk
    sizePt: view === 'play' ? 12.5 : 10,
  });
}

/** Title and, beside or below it, a line with the tempo and feel of the lesson. */
export function titleLineBlock({ canvas, frame, words }: Printing, lesson: Lesson, line: TitleLine): Block {
  const titlePt = 26;
  const linePt = line.sizePt;
  const title = breakLines(
    canvas,
    [textRun(titleOf(lesson, words), 'serif-bold', titlePt)],
    frame.widthPt,
    TITLE_LINES,
  );
  const soft = (text: string): Run => textRun(text, 'sans', linePt, SOFT);
  const left: Run[] = [
    soft(`${line.key} · `),
    { kind: 'beat', ticks: beatTicksOf(lesson.score.meter), sizePt: linePt * 1.25, colour: SOFT },
    soft(` = ${[lesson.score.tempoBpm, ...feelOf(lesson, words), line.page].join(' · ')}`),
  ];
  const right = line.right === '' ? [] : [soft(line.right)];
  const titleHeight = title.length * titlePt * 1.2;
  // the line stands beside a short title
  const [first] = title;
  const beside = canvas.widthOfAll(first ?? []) + TITLE_GAP_PT;
  const rightWidth = canvas.widthOfAll(right) + (right.length === 0 ? 0 : TITLE_GAP_PT);
  const isBeside = title.length === 1 && beside + canvas.widthOfAll(left) + rightWidth <= frame.widthPt;
  const heightPt = titleHeight + (isBeside ? 4 : linePt * 1.95);
  return {
    heightPt,
    gapPt: 0,
    keepWithNext: true,
    draw: (target, topPt) => {
      target.tagged('H1', () =>
        title.forEach((line, index) => target.put(line, frame.leftPt, topPt + titlePt * (0.92 + index * 1.2))),
      );
      const baseline = topPt + (isBeside ? titlePt * 0.92 : titleHeight + linePt * 1.4);
      target.tagged(
        'P',
        () => {
          target.put(left, frame.leftPt + (isBeside ? beside : 0), baseline);
          target.putRight(right, frame.rightPt, baseline);
        },
        [readText(left), readText(right)].join(' ').trim(),
      );
    },
  };
}

/** What the foot of every page says. */
export interface Footer {
  /** Behind the title: the key and which page this is. */
  readonly page: string;
  /** How it was made, in the middle; empty for nothing. */
  readonly made: string;
}

/** Key and view at the foot, and on the study page how it was made. */
export function footerOf({ analysis: { key }, choices }: Lesson, view: View, words: HandoutWords): Footer {
  return {
    page: `${words.key(noteText(key.tonic), key.mode)} · ${words.view[view]}`,
    made: view !== 'play' ? words.made(choices.level, choices.seed) : '',
  };
}

/** Title and page at the foot; how it was made in the middle; the page's number at the right. */
export function drawFooter(
  { canvas, frame, words }: Printing,
  lesson: Lesson,
  footer: Footer,
  page: number,
  pages: number,
): void {
  const sizePt = 7.5;
  const soft = (text: string): Run => textRun(text, 'sans', sizePt, SOFT);
  const tail = soft(` · ${footer.page}`);
  const made = soft(footer.made);
  const room = frame.widthPt / 2 - canvas.widthOf(made) / 2 - 14 - canvas.widthOf(tail);
  const title = oneLine(canvas, [soft(titleOf(lesson, words))], room);
  canvas.artifact(() => {
    canvas.line(frame.leftPt, frame.footerPt - 12, frame.rightPt, frame.footerPt - 12, 0.5, HAIRLINE);
    canvas.put([...title, tail], frame.leftPt, frame.footerPt);
    canvas.putCentred([made], (frame.leftPt + frame.rightPt) / 2, frame.footerPt);
    canvas.putRight([soft(words.pageOf(page, pages))], frame.rightPt, frame.footerPt);
  });
}

/** Whether any name the lesson prints has characters that no font has. */
function hasMissingCharacters(canvas: Canvas, lesson: Lesson): boolean {
  const names = [lesson.chart.title, ...lesson.chart.sections.map((section) => section.name ?? '')];
  return names.some((name) => fontRuns(name, 'serif-bold', canvas.fonts).some((run) => run.text.includes(REPLACEMENT)));
}

/** A heading with a hairline above it; a note at the right where there is one and room for all of it. Stays with what follows. */
export function headingBlock({ canvas, frame }: Printing, text: string, note: readonly Run[]): Block {
  const sizePt = 12.5;
  const heading = textRun(text, 'serif-bold', sizePt);
  const room = frame.widthPt - canvas.widthOf(heading) - 24;
  const right = canvas.widthOfAll(note) <= room ? note : [];
  return {
    heightPt: sizePt * 1.9,
    gapPt: 16,
    keepWithNext: true,
    isHeading: true,
    draw: (target, topPt) => {
      target.artifact(() => target.line(frame.leftPt, topPt, frame.rightPt, topPt, 0.7));
      target.document.outline.addItem(text);
      target.tagged('H2', () => target.put([heading], frame.leftPt, topPt + sizePt * 1.55));
      if (right.length > 0) target.tagged('P', () => target.putRight(right, frame.rightPt, topPt + sizePt * 1.55));
    },
  };
}

export function noteRuns(text: string): Run[] {
  return [textRun(text, 'sans', 8.5, SOFT)];
}

/** Lines of a paragraph that stay together; a longer one may go on on the next page. */
const LINES_TOGETHER = 8;

/** A paragraph, as one block where it has a few lines. */
export function paragraphBlocks(
  { canvas, frame }: Printing,
  runs: readonly Run[],
  gapPt: number,
  leadingPt = 13,
): Block[] {
  const lines = breakLines(canvas, runs, frame.widthPt);
  return Array.from({ length: Math.ceil(lines.length / LINES_TOGETHER) }, (_, index) => {
    const piece = lines.slice(index * LINES_TOGETHER, (index + 1) * LINES_TOGETHER);
    return {
      heightPt: piece.length * leadingPt,
      gapPt: index === 0 ? gapPt : 0,
      keepWithNext: false,
      draw: (target: Canvas, topPt: number) => {
        target.tagged('P', () =>
          piece.forEach((line, at) => target.put(line, frame.leftPt, topPt + leadingPt * (at + 0.74))),
        );
      },
    };
  });
}

/** Says that a character is missing, where a title or a name has one that no font has. */
export function missingCharacterBlocks(printing: Printing, lesson: Lesson): Block[] {
  const { canvas, words } = printing;
  return hasMissingCharacters(canvas, lesson) ? paragraphBlocks(printing, noteRuns(words.missingCharacters), 2) : [];
}
