import type { Bar, ChordSymbol, Key, Meter } from '@fivespan/core';
import { noteText, numeralText } from '../diagram/index.ts';
import { readText, SOFT, textRun, type Canvas, type Run } from './canvas.ts';
import { drawBarlines, drawDirections } from './chart-barlines.ts';
import { chordRuns, drawTabs, tabSize, tabsWidth, type Tab } from './chord-symbol.ts';
import { oneLine, type Line } from './paragraph.ts';
import type { HandoutWords } from './words.ts';

/** A chord in its bar as the chart shows it. */
export interface ChartSlot {
  /** From the bar's start, as a share of the bar: 0 to 1. */
  readonly start: number;
  readonly chord: ChordSymbol;
  /** ASCII; empty for none. */
  readonly numeral: string;
  /** The key the numeral is meant in, where it begins; null where it goes on. */
  readonly key: Key | null;
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
  /** Whether the ending this bar is in goes on in the next bar. */
  readonly endingGoesOn: boolean;
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

export interface ChartSizes extends ChartType {
  readonly words: HandoutWords;
  readonly widthPt: number;
  readonly leftPt: number;
}

/** The number of a row's first bar. */
export const NUMBER_PT = 7.5;

const BAR_PADDING_PT = 7;
/** Between chords at full size; closer where they are set smaller. */
const SLOT_GAP_PT = 7;
/** Symbols are made smaller down to this share of their size: a bar of thirty chords still fits the page. */
export const SMALLEST_SCALE = 0.1;
/** Room for a time signature, in sizes of the chord symbols. */
const METER_EMS = 0.85;
/** A repeat sign's thick and thin line with its dots. */
const REPEAT_WIDTH_PT = 7;

/** Where things stand in a row of bars, in points from its top. */
export interface RowHeights {
  /** Room above the bars for section names, endings and words. */
  readonly above: number;
  readonly labelPt: number;
  /** Size of endings' numbers and of words such as Fine. */
  readonly smallPt: number;
  readonly numerals: boolean;
  /** Whether the row begins with its first bar's number. */
  readonly numbered: boolean;
  readonly total: number;
}

function slotWidth(canvas: Canvas, slot: ChartSlot, sizes: ChartSizes, scale: number): number {
  const chord = canvas.widthOfAll(chordRuns(slot.chord, sizes.chordPt * scale));
  const numeral = canvas.widthOfAll(numeralRuns(slot, sizes.numeralPt * scale, sizes.words));
  const tabPt = sizes.tabPt * scale;
  const tabs = tabsWidth(slot.tabs.length + (slot.next === null ? 0 : 1), tabPt) + (slot.next === null ? 0 : tabPt);
  return Math.max(chord, numeral, tabs);
}

function numeralRuns(slot: ChartSlot, sizePt: number, words: HandoutWords): Run[] {
  if (slot.numeral === '') return [];
  const numeral = textRun(numeralText(slot.numeral), 'serif', sizePt, SOFT);
  if (slot.key === null) return [numeral];
  return [textRun(`${words.numeralKey(noteText(slot.key.tonic), slot.key.mode)} `, 'sans-bold', sizePt, SOFT), numeral];
}

/** The width a bar's symbols need at a share of their size. */
export function neededWidth(canvas: Canvas, bar: ChartBar, sizes: ChartSizes, scale: number): number {
  const slots = bar.slots.reduce((sum, slot) => sum + slotWidth(canvas, slot, sizes, scale), 0);
  const gaps = Math.max(0, bar.slots.length - 1) * SLOT_GAP_PT * scale;
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

/** Where a bar's slots begin: as time goes, pushed apart where symbols need the room. */
function slotStarts(
  widths: readonly number[],
  slots: readonly ChartSlot[],
  from: number,
  to: number,
  gap: number,
): number[] {
  const starts: number[] = [];
  slots.forEach((slot, index) => {
    const byTime = from + slot.start * (to - from);
    const after = index === 0 ? from : (starts[index - 1] as number) + (widths[index - 1] as number) + gap;
    starts.push(Math.max(index === 0 ? from : byTime, after));
  });
  let limit = to;
  for (let index = starts.length - 1; index >= 0; index--) {
    const most = limit - (widths[index] as number);
    if ((starts[index] as number) > most) starts[index] = most;
    limit = (starts[index] as number) - gap;
  }
  return starts;
}

/** A section's name, cut where it would meet the words at the row's right end. */
function sectionName(canvas: Canvas, bar: ChartBar, sizes: ChartSizes, heights: RowHeights): Line {
  if (bar.section === null || bar.section === '') return [];
  return oneLine(canvas, [textRun(bar.section, 'serif-bold', heights.labelPt)], sizes.widthPt * 0.6);
}

/** Where a bar stands and how large its symbols are set. */
export interface BarPlace {
  readonly x: number;
  readonly top: number;
  readonly width: number;
  readonly scale: number;
  readonly isFirstOfRow: boolean;
}

/** Names as short as a rehearsal letter are framed. */
const MOST_FRAMED = 3;

/** Sets a section's name, framed where it is a letter, and returns its width. */
function drawSectionName(canvas: Canvas, name: Line, x: number, baseline: number, { labelPt }: RowHeights): number {
  const width = canvas.widthOfAll(name);
  if ([...readText(name)].length > MOST_FRAMED) {
    canvas.put(name, x, baseline);
    return width;
  }
  const padding = labelPt * 0.42;
  canvas.put(name, x + padding, baseline);
  canvas.frame(x, baseline - labelPt * 0.88, width + 2 * padding, labelPt * 1.1, 0.8);
  return width + 2 * padding;
}

/** Draws a bar: symbols, numerals and tabs as large as its width allows, then its lines and directions. */
export function drawBar(
  canvas: Canvas,
  bar: ChartBar,
  place: BarPlace,
  sizes: ChartSizes,
  words: HandoutWords,
  heights: RowHeights,
): void {
  const { x, top, width, isFirstOfRow } = place;
  let { scale } = place;
  while (scale > SMALLEST_SCALE && neededWidth(canvas, bar, sizes, scale) > width) scale -= 0.04;
  const chordBaseline = top + heights.above + sizes.chordPt * 1.0;
  const numeralBaseline = chordBaseline + sizes.numeralPt * 1.5;
  const tabTop = (heights.numerals ? numeralBaseline : chordBaseline) + sizes.tabPt * 0.75;
  const bottom = top + heights.total;
  const written = bar.asWritten ? bar.bar : null;

  const number = heights.numbered && isFirstOfRow ? [textRun(String(bar.bar.number), 'sans', NUMBER_PT, SOFT)] : [];
  canvas.put(number, x, top + heights.labelPt);
  const name = sectionName(canvas, bar, sizes, heights);
  const lead = number.length === 0 ? 1 : canvas.widthOfAll(number) + 8;
  const nameWidth = name.length === 0 ? 0 : drawSectionName(canvas, name, x + lead, top + heights.labelPt, heights);
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
  const gap = SLOT_GAP_PT * scale;
  const starts = slotStarts(widths, bar.slots, x + leadOf(bar, sizes), to, gap);
  bar.slots.forEach((slot, index) => {
    const at = starts[index] as number;
    canvas.put(chordRuns(slot.chord, sizes.chordPt * scale), at, chordBaseline);
    canvas.put(numeralRuns(slot, sizes.numeralPt * scale, sizes.words), at, numeralBaseline);
    const tabPt = sizes.tabPt * scale;
    drawTabs(canvas, slot.tabs, at, tabTop, tabPt);
    if (slot.next !== null) {
      const end = (starts[index + 1] ?? to + gap) - gap;
      drawTabs(canvas, [slot.next], end - tabSize(tabPt).widthPt, tabTop, tabPt);
    }
  });

  if (written !== null) drawDirections(canvas, bar, x, top, width, heights, words, lead + nameWidth);
  drawBarlines(canvas, bar, x, top + heights.above, bottom, width);
}
