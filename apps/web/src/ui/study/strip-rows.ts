import type { ChordSymbol } from '@fivespan/core';
import { chordPieces } from '@fivespan/formats/type';
import type { BarView, ChartView, SlotView } from '../../features/study/index.ts';

/** A bar in its line, and how many columns of it it takes: one, but for a bar of many or long chords. */
export interface StripBar extends BarView {
  readonly columns: number;
}

/** Bars that stand in one line of the strip. */
export interface StripRow {
  /** What begins with it. */
  readonly section: string | null;
  readonly bars: readonly StripBar[];
}

/** How many columns a line may have; a section's last line may have fewer bars. */
const COLUMNS = [8, 4, 2, 1] as const;
/** The share of bars that must fit into one column each. */
const MOST_FIT = 0.75;

/** Widths of a semibold letter and of a sign, in their own ems. Ours, a little wide, so that what is guessed to fit does. */
const LETTER_EMS = 0.6;
const SIGN_EMS = 0.36;
/** Room beside the chords of a bar, in their ems: before them, between two, and for the bar's number. */
const BEFORE_EMS = 0.4;
const BETWEEN_EMS = 0.45;
const AFTER_EMS = 0.3;
/** A bar's number, and a section's name in its box, beside its chords; a longer name is cut. */
const NUMBER_EMS = 0.6;
const DIGIT_EMS = 0.35;
const BOX_EMS = 0.7;
const NAME_LETTER_EMS = 0.4;
const MOST_NAME_EMS = 4;

function chordEms(chord: ChordSymbol): number {
  return chordPieces(chord, 'text').reduce(
    (sum, { text, isSign, sizeEms }) => sum + [...text].length * (isSign ? SIGN_EMS : LETTER_EMS) * sizeEms,
    0,
  );
}

/** About how wide a bar's chords are, in their ems. */
export function barEms({ slots }: BarView): number {
  const chords = slots.reduce((sum, { chord }) => sum + chordEms(chord), 0);
  return BEFORE_EMS + chords + BETWEEN_EMS * Math.max(0, slots.length - 1) + AFTER_EMS;
}

/** How a chart is set in its strip. */
export interface StripSetting {
  readonly columns: number;
  /** Whether there is room for numbers beside the chords; else a line's number stands over its first bar. */
  readonly hasNumbersBeside: boolean;
  readonly rows: readonly StripRow[];
}

/**
 * A chart in lines: as many columns as lets most bars fit into one each; a bar that does not takes two, four or all of them. A section
 * begins a line, a pickup stands alone before the first.
 * @param roomEms the strip's width in ems of its chords
 */
export function setStrip({ sections }: ChartView, roomEms: number): StripSetting {
  const nameEms = (name: string | null, index: number): number =>
    name === null || index > 0 ? 0 : BOX_EMS + Math.min(MOST_NAME_EMS, [...name].length * NAME_LETTER_EMS);
  const all = sections.flatMap(({ name, bars }) => bars.map((bar, index) => ({ bar, besides: nameEms(name, index) })));
  const numberedEms = (bar: BarView, besides: number): number =>
    barEms(bar) + NUMBER_EMS + DIGIT_EMS * String(bar.bar.number).length + besides;
  const doMostFit = (columns: number, emsOf: (bar: BarView, besides: number) => number): boolean =>
    all.filter(({ bar, besides }) => emsOf(bar, besides) * columns <= roomEms).length >= MOST_FIT * all.length;
  const columns = COLUMNS.find((count) => doMostFit(count, barEms)) ?? 1;
  const hasNumbersBeside = doMostFit(columns, numberedEms);
  const columnsOf = (bar: BarView, besides: number): number => {
    const ems = hasNumbersBeside ? numberedEms(bar, besides) : barEms(bar);
    return COLUMNS.toReversed().find((taken) => taken >= columns || ems * columns <= roomEms * taken) ?? columns;
  };
  const rows = sections.flatMap(({ name, bars }) => {
    const lines: { bars: StripBar[]; taken: number }[] = [];
    for (const [index, bar] of bars.entries()) {
      const set = { ...bar, columns: Math.min(columns, columnsOf(bar, nameEms(name, index))) };
      const last = lines.at(-1);
      const isAfterPickup = last?.bars[0]?.bar.number === 0;
      if (last !== undefined && last.taken + set.columns <= columns && !isAfterPickup) {
        last.bars.push(set);
        last.taken += set.columns;
      } else lines.push({ bars: [set], taken: set.columns });
    }
    return lines.map((line, index): StripRow => ({ section: index === 0 ? name : null, bars: line.bars }));
  });
  return { columns, hasNumbersBeside, rows };
}

/** The slot that a key leads to; undefined where it leads nowhere. */
export function slotAfterKey(key: string, rows: readonly StripRow[], slot: string): SlotView | undefined {
  const lines = rows.map(({ bars }) => bars.flatMap((bar) => bar.slots));
  const all = lines.flat();
  const at = all.findIndex(({ name }) => name.slot === slot);
  const row = lines.findIndex((line) => line.some(({ name }) => name.slot === slot));
  const inLine = lines[row]?.findIndex(({ name }) => name.slot === slot) ?? 0;
  const share = inLine / Math.max(1, lines[row]?.length ?? 1);
  const inOther = (by: 1 | -1): SlotView | undefined => {
    const other = lines[row + by];
    return other?.[Math.min(other.length - 1, Math.round(share * other.length))];
  };
  switch (key) {
    case 'ArrowRight':
      return all[at + 1];
    case 'ArrowLeft':
      return all[at - 1];
    case 'ArrowDown':
      return inOther(1);
    case 'ArrowUp':
      return inOther(-1);
    case 'Home':
      return all[0];
    case 'End':
      return all.at(-1);
    default:
      return undefined;
  }
}

/** The stretch of a chord's closest figure, in bars from the chart's start; null where it is part of none. */
export function figureRound(
  { figures }: Pick<ChartView, 'figures'>,
  fromBar: number,
): { readonly fromBar: number; readonly toBar: number } | null {
  const round = figures.filter((each) => each.fromBar <= fromBar && fromBar < each.toBar);
  return round.toSorted((a, b) => a.toBar - a.fromBar - (b.toBar - b.fromBar))[0] ?? null;
}
