import type { ChordSymbol } from '@fivespan/core';
import { chordPieces } from '@fivespan/formats/type';
import type { BarView, ChartView, SlotView } from '../../features/study/index.ts';

/** A bar in its line, and the share of the strip's width it has: as much as its neighbours, but for a bar of many or long chords. */
export interface StripBar extends BarView {
  readonly share: number;
}

/** Bars that stand in one line of the strip. */
export interface StripRow {
  /** What begins with it. */
  readonly section: string | null;
  readonly bars: readonly StripBar[];
  /** Whether its chords need all its width: number and section stand over them. */
  readonly isFull: boolean;
}

/** From so many bars on a chart is long: lines of sixteen, where there is room, and less beside them. */
export const LONG_FROM_BARS = 41;

/** How many bars a line may have; a section's last line may have fewer. */
const COLUMNS = [16, 8, 4, 2, 1] as const;
/** The share of lines that must hold as many bars. */
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
  /** Bars in a line, as a rule. */
  readonly columns: number;
  /** Whether there is room for numbers beside the chords; else a line's number stands over its first bar. */
  readonly hasNumbersBeside: boolean;
  readonly rows: readonly StripRow[];
}

/** A bar and the room it needs. */
interface Needing {
  readonly bar: BarView;
  readonly ems: number;
}

const sumOf = (bars: readonly Needing[]): number => bars.reduce((sum, { ems }) => sum + ems, 0);

/**
 * Whether a bar's number stands in it: in a short line not in one of several chords, which has no room; its neighbours have theirs.
 * Of sixteen in a line every fourth has one.
 */
export function isNumbered({ slots, bar }: BarView, columns: number): boolean {
  if (columns > 8) return bar.number % 4 === 1;
  return columns === 8 || slots.length < 2;
}

/** Bars in lines of so many, halved where they need more room than there is: phrases stay whole as far as they can. */
function inLines(bars: readonly Needing[], most: number, roomEms: number): readonly (readonly Needing[])[] {
  const lines: (readonly Needing[])[] = [];
  for (let from = 0; from < bars.length; from += most) {
    const line = bars.slice(from, from + most);
    if (most > 1 && sumOf(line) > roomEms) lines.push(...inLines(line, most / 2, roomEms));
    else lines.push(line);
  }
  return lines;
}

/** Shares of the width: an equal one each, more for whoever needs more, taken from the others alike. */
function sharesOf(line: readonly Needing[], columns: number, roomEms: number): readonly number[] {
  const needs = line.map(({ ems }) => ems / roomEms);
  const whole = line.length / columns;
  const width = Math.min(
    1,
    Math.max(
      whole,
      needs.reduce((sum, need) => sum + need, 0),
    ),
  );
  const shares = needs.map(() => width / line.length);
  for (let round = 0; round < line.length; round++) {
    if (!needs.some((need, index) => need > (shares[index] ?? 0))) break;
    const taken = needs.reduce((sum, need, index) => sum + (need >= (shares[index] ?? 0) ? need : 0), 0);
    const others = needs.filter((need, index) => need < (shares[index] ?? 0)).length;
    if (others === 0) break;
    for (const [index, need] of needs.entries()) {
      shares[index] = need >= (shares[index] ?? 0) ? need : (width - taken) / others;
    }
  }
  const sum = shares.reduce((total, share) => total + share, 0);
  return sum > 1 ? shares.map((share) => share / sum) : shares;
}

/**
 * A chart in lines of eight, four, two bars or one: as many as let most lines hold them. A line whose chords need more room is halved.
 * A section begins a line, a pickup stands alone before the first.
 * @param roomEms the strip's width in ems of its chords
 * @param most bars in a line
 */
export function setStrip({ sections }: ChartView, roomEms: number, most: 8 | 16 = 8): StripSetting {
  const nameEms = (name: string | null, index: number): number =>
    name === null || index > 0 ? 0 : BOX_EMS + Math.min(MOST_NAME_EMS, [...name].length * NAME_LETTER_EMS);
  const needing = (name: string | null, bars: readonly BarView[], numbersIn: number | null): readonly Needing[] =>
    bars.map((bar, index) => {
      const number = isNumbered(bar, numbersIn ?? 0) ? NUMBER_EMS + DIGIT_EMS * String(bar.bar.number).length : 0;
      return { bar, ems: barEms(bar) + (numbersIn === null ? 0 : number + nameEms(name, index)) };
    });
  const phrases = (
    numbersIn: number | null,
  ): readonly { readonly name: string | null; readonly bars: readonly Needing[] }[] =>
    sections.flatMap(({ name, bars }) => {
      const all = needing(name, bars, numbersIn);
      return bars[0]?.bar.number === 0
        ? [
            { name, bars: all.slice(0, 1) },
            { name: null, bars: all.slice(1) },
          ].filter((each) => each.bars.length > 0)
        : [{ name, bars: all }];
    });
  const doMostFit = (columns: number, hasNumbers: boolean): boolean => {
    const lines = phrases(hasNumbers ? columns : null).flatMap(({ bars }) => inLines(bars, columns, Infinity));
    return lines.filter((line) => sumOf(line) <= roomEms).length >= MOST_FIT * lines.length;
  };
  const columns = COLUMNS.find((count) => count <= most && doMostFit(count, false)) ?? 1;
  const hasNumbersBeside = doMostFit(columns, true);
  const rows = phrases(hasNumbersBeside ? columns : null).flatMap(({ name, bars }) =>
    inLines(bars, columns, roomEms).map((line, index): StripRow => {
      const shares = sharesOf(line, columns, roomEms);
      return {
        section: index === 0 ? name : null,
        isFull: line.length === 1 && sumOf(line) > roomEms,
        bars: line.map(({ bar }, place) => ({ ...bar, share: shares[place] ?? 1 })),
      };
    }),
  );
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
