import type { Jump } from '@fivespan/core';
import { INK, textRun, type Canvas } from './canvas.ts';
import type { ChartBar, RowHeights } from './chart-bar.ts';
import type { HandoutWords } from './words.ts';

function jumpWords(jump: Jump, words: HandoutWords): string {
  return words.jump(jump.kind, jump.until);
}

/** Endings, and the words that say where the music goes. */
export function drawDirections(
  canvas: Canvas,
  bar: ChartBar,
  x: number,
  top: number,
  width: number,
  heights: RowHeights,
  words: HandoutWords,
  nameWidth: number,
): void {
  const written = bar.bar;
  const y = top + heights.above - 3;
  if (written.endings.length > 0) {
    const bracket = y - heights.smallPt;
    const label = written.startsEnding ? `${written.endings.join('. ')}.` : '';
    canvas.line(x, bracket, x + width - (bar.endingGoesOn ? 0 : 3), bracket, 0.8);
    if (written.startsEnding) canvas.line(x + 0.4, bracket, x + 0.4, y + 3, 0.8);
    canvas.put([textRun(label, 'sans-bold', heights.smallPt)], x + 4, y + 1);
  }
  // a section called Coda says so itself
  const left = [written.marks.segno ? words.segno : '', written.marks.coda ? words.coda : ''].filter(
    (each) => each !== '' && each.toLowerCase() !== bar.section?.toLowerCase(),
  );
  const right = [
    written.marks.toCoda ? words.toCoda : '',
    written.marks.fine ? words.fine : '',
    written.jump === null ? '' : jumpWords(written.jump, words),
    written.endsRepeatTimes > 2 ? words.times(written.endsRepeatTimes) : '',
  ].filter((each) => each !== '');
  if (left.length > 0) {
    const from = x + (nameWidth > 1 ? nameWidth + 8 : 2);
    canvas.put([textRun(left.join(' · '), 'serif-italic', heights.smallPt)], from, top + heights.labelPt);
  }
  if (right.length > 0)
    canvas.putRight(
      [textRun(right.join(' · '), 'serif-italic', heights.smallPt)],
      x + width - 4,
      top + heights.labelPt,
    );
}

/** The bar's lines: repeats, double bars at a section's end, the final bar. */
export function drawBarlines(
  canvas: Canvas,
  bar: ChartBar,
  x: number,
  top: number,
  bottom: number,
  width: number,
): void {
  const written = bar.asWritten ? bar.bar : null;
  const right = x + width;
  if (written?.startsRepeat === true) {
    canvas.box(x - 0.6, top, 2.6, bottom - top, INK);
    canvas.line(x + 4, top, x + 4, bottom, 0.8);
    repeatDots(canvas, x + 7, top, bottom);
  } else canvas.line(x, top, x, bottom, 0.9);
  if (written !== null && written.endsRepeatTimes > 0) {
    repeatDots(canvas, right - 7, top, bottom);
    canvas.line(right - 4, top, right - 4, bottom, 0.8);
    canvas.box(right - 2, top, 2.6, bottom - top, INK);
  } else if (bar.isLast) {
    canvas.line(right - 3.4, top, right - 3.4, bottom, 0.8);
    canvas.box(right - 1.6, top, 2.6, bottom - top, INK);
  } else if (bar.endsSection) {
    canvas.line(right - 2.4, top, right - 2.4, bottom, 0.8);
    canvas.line(right, top, right, bottom, 0.8);
  } else canvas.line(right, top, right, bottom, 0.9);
}

function repeatDots(canvas: Canvas, x: number, top: number, bottom: number): void {
  const middle = (top + bottom) / 2;
  canvas.dot(x, middle - 4, 1.2);
  canvas.dot(x, middle + 4, 1.2);
}
