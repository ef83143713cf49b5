import type { ScoreBar } from '../../score/index.ts';

/** Bars of a written line at most: a phrase. Common practice. */
export const BARS_A_LINE = 4;

/** Bars of a score by index, `to` exclusive. */
export interface BarStretch {
  readonly from: number;
  readonly to: number;
}

/**
 * The lines a score is read in: up to four bars, begun anew with each section, as even as they can be. A pickup belongs to the first.
 * @example lineBars(score.bars) // → [{ from: 0, to: 4 }, { from: 4, to: 8 }, …]
 */
export function lineBars(bars: readonly Pick<ScoreBar, 'section' | 'isPickup'>[]): BarStretch[] {
  const starts = bars.flatMap(({ section }, index) => (index === 0 || section !== null ? [index] : []));
  // a pickup with a section of its own line would be a line of one note
  const sections = starts.filter((start) => !(bars[start - 1]?.isPickup === true && start === 1));
  return sections.flatMap((start, index) => {
    const end = sections[index + 1] ?? bars.length;
    const pickup = bars[start]?.isPickup === true ? 1 : 0;
    const count = end - start - pickup;
    const lines = Math.max(1, Math.ceil(count / BARS_A_LINE));
    return Array.from({ length: lines }, (_, line) => ({
      from: line === 0 ? start : start + pickup + Math.round((line * count) / lines),
      to: start + pickup + Math.round(((line + 1) * count) / lines),
    }));
  });
}
