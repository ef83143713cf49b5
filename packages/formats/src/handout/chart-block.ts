import type { Block } from './block.ts';
import type { Canvas } from './canvas.ts';
import { drawBar, neededWidth, type ChartBar, type ChartSizes, type ChartType, type RowHeights } from './chart-bar.ts';
import { tabSize } from './chord-symbol.ts';
import type { Printing } from './printing.ts';

/** Symbols are not set smaller than this share of their size; the row takes fewer bars instead. */
const LEAST_SCALE = 0.72;
const PICKUP_SHARE = 0.6;

interface Row {
  readonly bars: readonly ChartBar[];
  readonly widths: readonly number[];
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
  const sizes = { ...type, widthPt: frame.widthPt, leftPt: frame.leftPt, words };
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
