import type { BarView, SectionView } from '../../features/chart-editing/index.ts';

/** Bars that are read together. */
export const BARS_IN_ROW = 4;

/** Rows of four; a pickup stands before the first by itself. */
export function rowsOf(section: SectionView): (readonly BarView[])[] {
  const rows: BarView[][] = [];
  const [first] = section.bars;
  let from = 0;
  if (first?.number === 0) {
    rows.push([first]);
    from = 1;
  }
  for (let at = from; at < section.bars.length; at += BARS_IN_ROW) rows.push(section.bars.slice(at, at + BARS_IN_ROW));
  return rows;
}

/** Whether the place for a new bar stands at the end of a row. */
export function hasRoomForNew(row: readonly BarView[]): boolean {
  return row.length < BARS_IN_ROW && row[0]?.number !== 0;
}

/** Whether the place for a new bar needs a row of its own. */
export function isNewAlone(last: SectionView | undefined): boolean {
  const bars = last?.bars ?? [];
  const inRows = bars[0]?.number === 0 ? bars.length - 1 : bars.length;
  return inRows % BARS_IN_ROW === 0;
}
