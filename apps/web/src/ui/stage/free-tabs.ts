/** Where the tabs of a free hand hang: each family in rows of its own, what is coming below, smaller. Rows are kept for the whole piece. */
import { modulo } from '@fivespan/core';
import { placeInRow } from './place-tabs.ts';
import type { StageTab } from './stage-content.ts';

/** In its letters' size: what stands left and right of a name together. Many tabs stand close. */
const SIDES_EM = 0.24;
/** Widths of letters and signs in the sans at 600, in its size (place-tabs.ts). */
const SIGN_EM: Readonly<Record<string, number>> = { '♭': 0.42, '♯': 0.48, '′': 0.28, '″': 0.44, '‴': 0.6, '⁗': 0.76 };
const CAPITAL_EM = 0.6;
const SMALL_EM = 0.5;

/** How wide a tab of a free hand is for its name. */
export function freeTabWidthPx(name: string, sizePx: number): number {
  const letters = [...name].reduce(
    (sum, letter) => sum + (SIGN_EM[letter] ?? (/[a-zé]/u.test(letter) ? SMALL_EM : CAPITAL_EM)),
    0,
  );
  return (letters + SIDES_EM) * sizePx;
}

/** Tabs of one kind share rows. */
type Kind = 'first' | 'second' | 'coming';

const kindOf = ({ role, isSecond }: StageTab): Kind =>
  role === 'next' ? 'coming' : isSecond === true ? 'second' : 'first';

/** How many rows each kind has. */
export type FreeRows = Readonly<Record<Kind, number>>;

export interface FreeRoom {
  readonly widthPx: number;
  /** Of a white key: a tab may hang as far from its key. */
  readonly whitePx: number;
  readonly tabPx: number;
  readonly comingPx: number;
  /** The middle of a key in the picture; undefined for one beyond it. */
  readonly centreOf: (midi: number) => number | undefined;
}

const MOST_ROWS = 4;
const KINDS: readonly Kind[] = ['first', 'second', 'coming'];

/** A tab and where it hangs. */
export interface HangingTab {
  readonly tab: StageTab;
  readonly keyX: number;
  readonly x: number;
  readonly width: number;
  /** Among the rows of its kind, from 0. */
  readonly row: number;
  readonly kind: Kind;
}

function hung(tabs: readonly StageTab[], kind: Kind, rows: number, room: FreeRoom): HangingTab[] {
  const sizePx = kind === 'coming' ? room.comingPx : room.tabPx;
  const shown = tabs.flatMap((tab) => {
    const keyX = kindOf(tab) === kind ? room.centreOf(tab.midi) : undefined;
    return keyX === undefined ? [] : [{ tab, keyX, width: freeTabWidthPx(tab.name, sizePx) }];
  });
  // one name hangs in one row, whatever its octave
  const classes = [...new Set(shown.map(({ tab }) => tab.midi % 12))].toSorted((a, b) => a - b);
  return Array.from({ length: rows }, (_, row) => {
    const inRow = shown.filter(({ tab }) => modulo(classes.indexOf(tab.midi % 12), rows) === row);
    const at = placeInRow(inRow, room.widthPx);
    return inRow.map((each, index): HangingTab => ({ ...each, x: at[index] ?? each.keyX, row, kind }));
  }).flat();
}

/** Whether no tab covers another of its row, and none hangs far from its key. */
function isClear(tabs: readonly HangingTab[], whitePx: number): boolean {
  const sorted = tabs.toSorted((a, b) => a.row - b.row || a.x - b.x);
  return sorted.every(({ x, keyX, width, row }, index) => {
    const next = sorted[index + 1];
    const isApart = next === undefined || next.row !== row || next.x - x >= (width + next.width) / 2 - 0.5;
    // what hangs at the edge is moved in, and moves its neighbours
    return isApart && Math.abs(x - keyX) <= Math.max(whitePx * 1.2, width * 0.8);
  });
}

/**
 * How many rows each kind of tabs needs, whatever is shown of a piece.
 * @param sets all that is ever shown at once, as what hangs and, dashed, as what comes
 */
export function freeRows(sets: readonly (readonly StageTab[])[], room: FreeRoom): FreeRows {
  const needed = (kind: Kind): number => {
    let rows = sets.some((tabs) => tabs.some((tab) => kindOf(tab) === kind)) ? 1 : 0;
    for (const tabs of sets) {
      while (rows > 0 && rows < MOST_ROWS && !isClear(hung(tabs, kind, rows, room), room.whitePx)) rows++;
    }
    return rows;
  };
  return { first: Math.max(1, needed('first')), second: needed('second'), coming: needed('coming') };
}

/** Where tabs hang. */
export function hangFreeTabs(tabs: readonly StageTab[], rows: FreeRows, room: FreeRoom): readonly HangingTab[] {
  return KINDS.flatMap((kind) => hung(tabs, kind, rows[kind], room));
}
