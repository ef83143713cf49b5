import type { Bar, ChordSymbol, Jump, Meter } from '@fivespan/core';
import { numeralText } from '../diagram/index.ts';
import { INK, SOFT, textRun, type Canvas, type Run } from './canvas.ts';
import type { Block } from './block.ts';
import { chordRuns, drawTabs, tabSize, tabsWidth, type Tab } from './chord-symbol.ts';
import type { Printing } from './printing.ts';
import type { HandoutWords } from './words.ts';

/** A chord in its bar as the chart shows it. */
export interface ChartSlot {
  /** From the bar's start, as a share of the bar: 0 to 1. */
  readonly start: number;
  readonly chord: ChordSymbol;
  /** ASCII; empty for none. */
  readonly numeral: string;
  readonly tabs: readonly Tab[];
  /** The next thumb, hung at the end of the slot; null for none. */
  readonly next: Tab | null;
}

/** A bar as the chart shows it. */
export interface ChartBar {
  readonly bar: Bar;
  readonly isPickup: boolean;
  readonly slots: readonly ChartSlot[];
  /** Section name where one begins here; null elsewhere. */
  readonly section: string | null;
  readonly endsSection: boolean;
  readonly isLast: boolean;
  /** A metre that begins here. */
  readonly meter: Meter | null;
  /** Repeats, endings and jumps are drawn; off where the form is played out. */
  readonly asWritten: boolean;
}

/** How large a chart is set, in points. */
export interface ChartType {
  readonly chordPt: number;
  readonly numeralPt: number;
  readonly tabPt: number;
  readonly barsInRow: number;
}

interface ChartSizes extends ChartType {
  readonly widthPt: number;
  readonly leftPt: number;
}

const BAR_PADDING_PT = 7;
const SLOT_GAP_PT = 7;
/** Room for a time signature, in sizes of the chord symbols. */
const METER_EMS = 0.85;
/** A repeat sign's thick and thin line with its dots. */
const REPEAT_WIDTH_PT = 7;
const PICKUP_SHARE = 0.6;
/** Symbols are not set smaller than this share of their size; the row takes fewer bars instead. */
const LEAST_SCALE = 0.72;

interface Row {
  readonly bars: readonly ChartBar[];
  readonly widths: readonly number[];
}

function slotWidth(canvas: Canvas, slot: ChartSlot, sizes: ChartSizes, scale: number): number {
  const chord = canvas.widthOfAll(chordRuns(slot.chord, sizes.chordPt * scale));
  const numeral = canvas.widthOf(numeralRun(slot.numeral, sizes.numeralPt * scale));
  const tabPt = sizes.tabPt * scale;
  const tabs = tabsWidth(slot.tabs.length + (slot.next === null ? 0 : 1), tabPt) + (slot.next === null ? 0 : tabPt);
  return Math.max(chord, numeral, tabs);
}

function numeralRun(numeral: string, sizePt: number): Run {
  return textRun(numeralText(numeral), 'sans', sizePt, SOFT);
}

function neededWidth(canvas: Canvas, bar: ChartBar, sizes: ChartSizes, scale: number): number {
  const slots = bar.slots.reduce((sum, slot) => sum + slotWidth(canvas, slot, sizes, scale), 0);
  const gaps = Math.max(0, bar.slots.length - 1) * SLOT_GAP_PT;
  return slots + gaps + leadOf(bar, sizes) + BAR_PADDING_PT + (bar.asWritten && bar.bar.endsRepeatTimes > 0 ? 6 : 2);
}

/** Room before a bar's first chord. */
function leadOf(bar: ChartBar, sizes: ChartSizes): number {
  return (
    BAR_PADDING_PT +
    (bar.meter === null ? 0 : METER_EMS * sizes.chordPt) +
    (bar.asWritten && bar.bar.startsRepeat ? REPEAT_WIDTH_PT : 0)
  );
}

function fullBars(bars: readonly ChartBar[]): number {
  return bars.reduce((sum, bar) => sum + (bar.isPickup ? PICKUP_SHARE : 1), 0);
}

/** The next row of a section: as many bars as go, a power of two where all do not, so that phrases stay in view. */
function nextRow(canvas: Canvas, bars: readonly ChartBar[], sizes: ChartSizes): ChartBar[] {
  const pickups = bars.findIndex((bar) => !bar.isPickup);
  const before = pickups < 0 ? bars.length : pickups;
  for (let count = sizes.barsInRow; count > 1; count = count === 3 ? 2 : Math.ceil(count / 2)) {
    const row = bars.slice(0, before + count);
    const needed = row.reduce((sum, bar) => sum + neededWidth(canvas, bar, sizes, LEAST_SCALE), 0);
    if (needed <= sizes.widthPt) return row;
  }
  return bars.slice(0, before + 1);
}

/** Bars of a row are equally wide where their symbols allow it; a crowded one takes room from the others. */
function barWidths(canvas: Canvas, bars: readonly ChartBar[], sizes: ChartSizes): number[] {
  const full = fullBars(bars);
  const total =
    (sizes.widthPt * full) / Math.max(full, sizes.barsInRow + full - bars.filter((bar) => !bar.isPickup).length);
  let scale = 1;
  const needs = (): number[] => bars.map((bar) => neededWidth(canvas, bar, sizes, scale));
  const sumOf = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0);
  while (scale > 0.3 && sumOf(needs()) > sizes.widthPt) scale -= 0.04;
  const needed = needs();
  const row = Math.max(total, Math.min(sizes.widthPt, sumOf(needed)));
  const crowded = new Set<number>();
  for (;;) {
    const rest = row - sumOf([...crowded].map((index) => needed[index] as number));
    const shares = fullBars(bars.filter((_, index) => !crowded.has(index)));
    const widths = bars.map((bar, index) =>
      crowded.has(index) ? (needed[index] as number) : (rest / shares) * (bar.isPickup ? PICKUP_SHARE : 1),
    );
    const tight = widths.findIndex((width, index) => !crowded.has(index) && width < (needed[index] as number) - 0.01);
    if (tight < 0) return widths;
    crowded.add(tight);
  }
}

/** Rows begin anew with each section; a pickup stands before the first row's bars. */
function rowsOf(canvas: Canvas, bars: readonly ChartBar[], sizes: ChartSizes): Row[] {
  const sections: ChartBar[][] = [];
  for (const bar of bars) {
    const current = sections.at(-1);
    if (current === undefined || (bar.section !== null && !current.every((each) => each.isPickup)))
      sections.push([bar]);
    else current.push(bar);
  }
  const rows: Row[] = [];
  for (const section of sections) {
    for (let from = 0; from < section.length;) {
      const row = nextRow(canvas, section.slice(from), sizes);
      rows.push({ bars: row, widths: barWidths(canvas, row, sizes) });
      from += row.length;
    }
  }
  return rows;
}

function jumpWords(jump: Jump, words: HandoutWords): string {
  return words.jump(jump.kind, jump.until);
}

/** Where a bar's slots begin: as time goes, pushed apart where symbols need the room. */
function slotStarts(widths: readonly number[], slots: readonly ChartSlot[], from: number, to: number): number[] {
  const starts: number[] = [];
  slots.forEach((slot, index) => {
    const byTime = from + slot.start * (to - from);
    const after = index === 0 ? from : (starts[index - 1] as number) + (widths[index - 1] as number) + SLOT_GAP_PT;
    starts.push(Math.max(index === 0 ? from : byTime, after));
  });
  let limit = to;
  for (let index = starts.length - 1; index >= 0; index--) {
    const most = limit - (widths[index] as number);
    if ((starts[index] as number) > most) starts[index] = most;
    limit = (starts[index] as number) - SLOT_GAP_PT;
  }
  return starts;
}

function drawBar(
  canvas: Canvas,
  bar: ChartBar,
  x: number,
  top: number,
  width: number,
  sizes: ChartSizes,
  words: HandoutWords,
  heights: RowHeights,
): void {
  let scale = 1;
  while (scale > 0.3 && neededWidth(canvas, bar, sizes, scale) > width) scale -= 0.04;
  const chordBaseline = top + heights.above + sizes.chordPt * 1.0;
  const numeralBaseline = chordBaseline + sizes.numeralPt * 1.5;
  const tabTop = (heights.numerals ? numeralBaseline : chordBaseline) + sizes.tabPt * 0.75;
  const bottom = top + heights.total;
  const written = bar.asWritten ? bar.bar : null;

  if (bar.section !== null && bar.section !== '') {
    canvas.put([textRun(bar.section, 'serif-bold', heights.labelPt)], x + 1, top + heights.labelPt);
  }
  if (bar.meter !== null) {
    const size = sizes.chordPt * 0.72;
    const centre =
      x + BAR_PADDING_PT + (written?.startsRepeat === true ? REPEAT_WIDTH_PT : 0) + METER_EMS * sizes.chordPt * 0.38;
    canvas.putCentred(
      [textRun(String(bar.meter.count), 'serif-bold', size)],
      centre,
      chordBaseline - sizes.chordPt * 0.18,
    );
    canvas.putCentred(
      [textRun(String(bar.meter.unit), 'serif-bold', size)],
      centre,
      chordBaseline + sizes.chordPt * 0.42,
    );
  }
  const widths = bar.slots.map((slot) => slotWidth(canvas, slot, sizes, scale));
  const to = x + width - BAR_PADDING_PT - (written !== null && written.endsRepeatTimes > 0 ? 6 : 0);
  const starts = slotStarts(widths, bar.slots, x + leadOf(bar, sizes), to);
  bar.slots.forEach((slot, index) => {
    const at = starts[index] as number;
    canvas.put(chordRuns(slot.chord, sizes.chordPt * scale), at, chordBaseline);
    if (slot.numeral !== '') canvas.put([numeralRun(slot.numeral, sizes.numeralPt * scale)], at, numeralBaseline);
    const tabPt = sizes.tabPt * scale;
    drawTabs(canvas, slot.tabs, at, tabTop, tabPt);
    if (slot.next !== null) {
      const end = (starts[index + 1] ?? to + SLOT_GAP_PT) - SLOT_GAP_PT;
      drawTabs(canvas, [slot.next], end - tabSize(tabPt).widthPt, tabTop, tabPt);
    }
  });

  if (written !== null) drawWritten(canvas, bar, x, top, width, heights, words);
  drawBarlines(canvas, bar, x, top + heights.above, bottom, width);
}

function drawWritten(
  canvas: Canvas,
  bar: ChartBar,
  x: number,
  top: number,
  width: number,
  heights: RowHeights,
  words: HandoutWords,
): void {
  const written = bar.bar;
  const y = top + heights.above - 3;
  if (written.endings.length > 0) {
    const bracket = y - heights.smallPt;
    const label = written.startsEnding ? `${written.endings.join('. ')}.` : '';
    canvas.line(x, bracket, x + width - 3, bracket, 0.8);
    if (written.startsEnding) canvas.line(x + 0.4, bracket, x + 0.4, y + 3, 0.8);
    canvas.put([textRun(label, 'sans-bold', heights.smallPt)], x + 4, y + 1);
  }
  const left = [written.marks.segno ? words.segno : '', written.marks.coda ? words.coda : ''].filter(
    (each) => each !== '',
  );
  const right = [
    written.marks.toCoda ? words.toCoda : '',
    written.marks.fine ? words.fine : '',
    written.jump === null ? '' : jumpWords(written.jump, words),
    written.endsRepeatTimes > 2 ? words.times(written.endsRepeatTimes) : '',
  ].filter((each) => each !== '');
  const hasName = bar.section !== null && bar.section !== '';
  if (left.length > 0) {
    const from = x + (hasName ? canvas.widthOf(textRun(bar.section ?? '', 'serif-bold', heights.labelPt)) + 8 : 2);
    canvas.put([textRun(left.join(' · '), 'sans-italic', heights.smallPt)], from, top + heights.labelPt);
  }
  if (right.length > 0)
    canvas.putRight([textRun(right.join(' · '), 'sans-italic', heights.smallPt)], x + width - 4, top + heights.labelPt);
}

function drawBarlines(canvas: Canvas, bar: ChartBar, x: number, top: number, bottom: number, width: number): void {
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

interface RowHeights {
  /** Room above the bars for section names, endings and words. */
  readonly above: number;
  readonly labelPt: number;
  /** Size of endings' numbers and of words such as Fine. */
  readonly smallPt: number;
  readonly numerals: boolean;
  readonly total: number;
}

function rowHeights(row: Row, sizes: ChartSizes): RowHeights {
  const labelPt = Math.max(9, sizes.chordPt * 0.62);
  const smallPt = Math.max(7.5, sizes.chordPt * 0.45);
  const hasLabel = row.bars.some((bar) => {
    const { marks, jump, endsRepeatTimes } = bar.bar;
    const words = marks.coda || marks.fine || marks.segno || marks.toCoda || jump !== null || endsRepeatTimes > 2;
    return (bar.section !== null && bar.section !== '') || (bar.asWritten && words);
  });
  const hasEnding = row.bars.some((bar) => bar.asWritten && bar.bar.endings.length > 0);
  const numerals = row.bars.some((bar) => bar.slots.some((slot) => slot.numeral !== ''));
  const above = (hasLabel ? labelPt + 4 : 0) + (hasEnding ? smallPt + 5 : 0);
  const body =
    sizes.chordPt * 1.0 +
    (numerals ? sizes.numeralPt * 1.5 : 0) +
    sizes.tabPt * 0.75 +
    tabSize(sizes.tabPt).heightPt +
    5;
  return { above, labelPt, smallPt, numerals, total: above + body };
}

/** The chart as blocks, one a row of bars. */
export function chartBlocks({ canvas, frame, words }: Printing, bars: readonly ChartBar[], type: ChartType): Block[] {
  const sizes = { ...type, widthPt: frame.widthPt, leftPt: frame.leftPt };
  return rowsOf(canvas, bars, sizes).map((row, index) => {
    const heights = rowHeights(row, sizes);
    return {
      heightPt: heights.total,
      gapPt: index === 0 ? 10 : heights.above > 0 ? 9 : 11,
      keepWithNext: false,
      draw: (target, topPt) => {
        let x = sizes.leftPt;
        target.tagged('P', () => {
          for (const [at, bar] of row.bars.entries()) {
            const width = row.widths[at] as number;
            drawBar(target, bar, x, topPt, width, sizes, words, heights);
            x += width;
          }
        });
      },
    };
  });
}
