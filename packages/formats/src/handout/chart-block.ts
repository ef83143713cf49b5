import type { Block } from './block.ts';
import type { Canvas } from './canvas.ts';
import {
  drawBar,
  neededWidth,
  NUMBER_PT,
  SMALLEST_SCALE,
  type ChartBar,
  type ChartSizes,
  type ChartType,
  type RowHeights,
} from './chart-bar.ts';
import { tabSize } from './chord-symbol.ts';
import type { Printing } from './printing.ts';

/** Symbols are not set smaller than this share of their size; the row takes fewer bars instead. */
const LEAST_SCALE = 0.72;
const PICKUP_SHARE = 0.6;

interface Row {
  readonly bars: readonly ChartBar[];
  readonly widths: readonly number[];
  /** Share of their size at which the row's symbols are set, the same for all its bars. */
  readonly scale: number;
}

function fullBars(bars: readonly ChartBar[]): number {
  return bars.reduce((sum, bar) => sum + (bar.isPickup ? PICKUP_SHARE : 1), 0);
}

function fullCount(bars: readonly ChartBar[]): number {
  return bars.filter((bar) => !bar.isPickup).length;
}

/** The next row of a section: as many bars as go, a power of two where all do not, so that phrases stay in view. */
function nextRow(canvas: Canvas, bars: readonly ChartBar[], sizes: ChartSizes): ChartBar[] {
  const pickups = bars.findIndex((bar) => !bar.isPickup);
  // a chart from elsewhere may have nothing but short bars
  const before = Math.min(pickups < 0 ? bars.length : pickups, sizes.barsInRow);
  for (let count = sizes.barsInRow; count > 1; count = count === 3 ? 2 : Math.ceil(count / 2)) {
    const row = bars.slice(0, before + count);
    const needed = row.reduce((sum, bar) => sum + neededWidth(canvas, bar, sizes, LEAST_SCALE), 0);
    if (needed <= sizes.widthPt) return row;
  }
  return bars.slice(0, before + 1);
}

/** Steps in which symbols are made smaller. */
const SCALE_STEP = 0.04;

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0);
}

/**
 * Bars of a row are equally wide where their symbols allow it; a crowded one takes room from the others.
 * @param barsAcross how many bars the width is for: with fewer the row ends early, unless its symbols need more room.
 */
function rowOf(canvas: Canvas, bars: readonly ChartBar[], sizes: ChartSizes, barsAcross: number): Row {
  const needsAt = (scale: number): number[] => bars.map((bar) => neededWidth(canvas, bar, sizes, scale));
  let scale = 1;
  while (scale > SMALLEST_SCALE && sumOf(needsAt(scale)) > sizes.widthPt) scale -= SCALE_STEP;
  const needed = needsAt(scale);
  const full = fullBars(bars);
  const missing = Math.max(0, barsAcross - fullCount(bars));
  const share = (sizes.widthPt * full) / (full + missing);
  const width = sumOf(needed) > share ? sizes.widthPt : share;
  const crowded = new Set<number>();
  for (;;) {
    const rest = width - sumOf([...crowded].map((index) => needed[index] as number));
    const shares = fullBars(bars.filter((_, index) => !crowded.has(index)));
    const widths = bars.map((bar, index) =>
      crowded.has(index) ? (needed[index] as number) : (rest / shares) * (bar.isPickup ? PICKUP_SHARE : 1),
    );
    const tight = widths.findIndex((each, index) => !crowded.has(index) && each < (needed[index] as number) - 0.01);
    if (tight < 0) return { bars, widths, scale };
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
    let above = sizes.barsInRow;
    for (let from = 0; from < section.length;) {
      const row = nextRow(canvas, section.slice(from), sizes);
      from += row.length;
      // rows fill the width; only a section's last one, where it has fewer bars than the row above, keeps their width
      const count = fullCount(row);
      rows.push(rowOf(canvas, row, sizes, from < section.length ? count : above));
      above = count;
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
  const numbered = numerals && row.bars.every((bar) => bar.asWritten) && row.bars[0]?.isPickup === false;
  const above = (hasLabel ? labelPt + 4 : numbered ? NUMBER_PT + 3 : 0) + (hasEnding ? smallPt + 5 : 0);
  const body =
    sizes.chordPt * 1.0 +
    (numerals ? sizes.numeralPt * 1.5 : 0) +
    sizes.tabPt * 0.75 +
    tabSize(sizes.tabPt).heightPt +
    5;
  return {
    above,
    labelPt: hasLabel || !numbered ? labelPt : NUMBER_PT,
    smallPt,
    numerals,
    numbered,
    total: above + body,
  };
}

/** The chart as blocks, one a row of bars. */
export function chartBlocks({ canvas, frame, words }: Printing, bars: readonly ChartBar[], type: ChartType): Block[] {
  const sizes = { ...type, widthPt: frame.widthPt, leftPt: frame.leftPt, words };
  return rowsOf(canvas, bars, sizes).map((row, index) => {
    const heights = rowHeights(row, sizes);
    return {
      heightPt: heights.total,
      gapPt: index === 0 ? 10 : heights.above > 0 ? 6 : 11,
      keepWithNext: false,
      draw: (target, topPt) => {
        let x = sizes.leftPt;
        target.tagged('P', () => {
          for (const [at, bar] of row.bars.entries()) {
            const width = row.widths[at] as number;
            drawBar(
              target,
              bar,
              { x, top: topPt, width, scale: row.scale, isFirstOfRow: at === 0 },
              sizes,
              words,
              heights,
            );
            x += width;
          }
        });
      },
    };
  });
}
