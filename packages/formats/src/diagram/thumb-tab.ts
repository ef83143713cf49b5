import type { Midi, NoteName } from '@fivespan/core';
import type { DrawnKey } from './keyboard-layout.ts';

/** Size of a thumb tab in a picture at true size; a little narrower than a white key, so that neighbours stay apart. */
export const TAB_WIDTH_MM = 20;
export const TAB_HEIGHT_MM = 18;
/** From one row of tabs to the next. */
export const TAB_ROW_MM = 20;

/** A thumb to mark. */
export interface ThumbMark {
  readonly midi: Midi;
  readonly name: NoteName;
  /** Behind the name, to tell shapes apart; may be empty. */
  readonly mark: string;
  /** Filled for the thumb now, open for another it may take, dashed for the next. */
  readonly kind: 'now' | 'other' | 'next';
}

export interface PlacedTab {
  readonly key: DrawnKey;
  readonly name: NoteName;
  readonly mark: string;
  readonly kind: ThumbMark['kind'];
  /** 0 hangs at the front edge; a tab that would cover another hangs lower, on a longer stem. */
  readonly row: number;
}

/** Places tabs so that none covers another: the thumb now first, then white keys, then black ones. */
export function placeTabs(marks: readonly ThumbMark[], keyAt: ReadonlyMap<Midi, DrawnKey>): PlacedTab[] {
  const found = marks.flatMap((mark) => {
    const key = keyAt.get(mark.midi);
    return key === undefined ? [] : [{ mark, key }];
  });
  const order = (each: { mark: ThumbMark; key: DrawnKey }): number =>
    each.mark.kind === 'now' ? 0 : each.key.black ? 2 : 1;
  found.sort((a, b) => order(a) - order(b) || a.key.midi - b.key.midi);
  const placed: PlacedTab[] = [];
  for (const { mark, key } of found) {
    let row = 0;
    const covers = (other: PlacedTab): boolean =>
      other.row === row && Math.abs(other.key.centreMm - key.centreMm) < TAB_WIDTH_MM + 1;
    while (placed.some(covers)) row++;
    placed.push({ key, name: mark.name, mark: mark.mark, kind: mark.kind, row });
  }
  return placed;
}

/** How many rows the tabs take. */
export function tabRowsOf(tabs: readonly PlacedTab[]): number {
  return tabs.reduce((most, tab) => Math.max(most, tab.row + 1), 0);
}
