import { slidesOf, type Midi } from '@fivespan/core';
import { useState } from 'react';
import { hangFreeTabs, type FreeRoom, type FreeRows, type HangingTab } from './free-tabs.ts';
import type { StageTab } from './stage-content.ts';
import styles from './StageKeyboard.module.css';

/** A tab is a little higher than its letters, and hangs a little over the keys' front edge. */
const TAB_HEIGHT = 1.13;
const TAB_OVER_PX = 6;
const ROW_GAP_PX = 2;

/** How much room the rows take below the keys. */
export function freeTabsHeightPx({ first, second, coming }: FreeRows, { tabPx, comingPx }: FreeRoom): number {
  const rows = (first + second) * (tabPx * TAB_HEIGHT + ROW_GAP_PX) + coming * (comingPx * TAB_HEIGHT + ROW_GAP_PX);
  return rows - TAB_OVER_PX;
}

interface Placed {
  readonly thumbMidi: Midi;
  readonly name: string;
  readonly isSecond: boolean;
}

/** Tabs as they hang, each with a number of its own that goes with it where it stays and where it slides. */
interface Hung {
  readonly tabs: readonly Placed[];
  readonly ids: readonly number[];
  readonly last: number;
}

const placedOf = ({ midi: key, name, isSecond }: StageTab): Placed => ({
  thumbMidi: key,
  name,
  isSecond: isSecond === true,
});
const isSame = (a: Placed, b: Placed): boolean =>
  a.thumbMidi === b.thumbMidi && a.name === b.name && a.isSecond === b.isSecond;

function hungAfter({ tabs, ids, last }: Hung, next: readonly Placed[]): Hung {
  let newest = last;
  const from = slidesOf(tabs, next, isSame);
  return { tabs: next, ids: from.map((index) => (index === null ? ++newest : (ids[index] as number))), last: newest };
}

interface FreeTabsProps {
  readonly tabs: readonly StageTab[];
  readonly rows: FreeRows;
  readonly room: FreeRoom;
  readonly lengthPx: number;
  /** Where a key's pin is set: its front edge, by whether it is black. */
  readonly frontOf: (midi: number) => number;
  readonly onTab: ((tab: StageTab) => void) | undefined;
}

/** Every thumb a free hand may take, hanging from its key: what stays stays, the rest slides, what comes is dashed below. */
export function FreeTabs({ tabs, rows, room, lengthPx, frontOf, onTab }: FreeTabsProps) {
  const hanging = tabs.filter(({ role }) => role !== 'next');
  const [hung, setHung] = useState<Hung>({ tabs: [], ids: [], last: 0 });
  const placed = hanging.map(placedOf);
  const isAsHung =
    placed.length === hung.tabs.length && placed.every((each, at) => isSame(each, hung.tabs[at] as Placed));
  const now = isAsHung ? hung : hungAfter(hung, placed);
  // derived from what hung before: React draws it anew at once
  if (!isAsHung) setHung(now);
  const idOf = new Map(hanging.map((tab, index) => [tab, now.ids[index]]));
  const topOf = ({ kind, row }: HangingTab): number => {
    const tabRow = room.tabPx * TAB_HEIGHT + ROW_GAP_PX;
    const comingRow = room.comingPx * TAB_HEIGHT + ROW_GAP_PX;
    const above = kind === 'first' ? row * tabRow : (rows.first + (kind === 'second' ? row : rows.second)) * tabRow;
    return lengthPx - TAB_OVER_PX + above + (kind === 'coming' ? row * comingRow : 0);
  };
  const all = hangFreeTabs(tabs, rows, room);
  return (
    <>
      {all.map((each) => {
        const { tab, keyX, x } = each;
        const from = frontOf(tab.midi);
        const isComing = tab.role === 'next';
        return (
          <g key={isComing ? `next ${tab.midi} ${tab.name}` : idOf.get(tab)} className={isComing ? styles.coming : ''}>
            <path
              className={`${styles.pin} ${isComing ? styles.next : ''}`}
              d={`M${keyX} ${from}L${keyX} ${lengthPx}L${x} ${topOf(each) + 2}`}
            />
            <circle className={tab.role === 'now' ? styles.dotNow : styles.dot} cx={keyX} cy={from} r={3.2} />
          </g>
        );
      })}
      {all.map((each) => (
        <FreeTab
          key={each.tab.role === 'next' ? `next ${each.tab.midi} ${each.tab.name}` : idOf.get(each.tab)}
          hanging={each}
          top={topOf(each)}
          sizePx={each.kind === 'coming' ? room.comingPx : room.tabPx}
          onTab={onTab}
        />
      ))}
    </>
  );
}

interface FreeTabProps {
  readonly hanging: HangingTab;
  readonly top: number;
  readonly sizePx: number;
  readonly onTab: ((tab: StageTab) => void) | undefined;
}

function outlineOf(width: number, height: number): string {
  const round = Math.min(width * 0.42, height / 2);
  return (
    `M${-width / 2} 0h${width}v${height - round}a${round} ${round} 0 0 1 ${-round} ${round}` +
    `h${2 * round - width}a${round} ${round} 0 0 1 ${-round} ${-round}z`
  );
}

function FreeTab({ hanging: { tab, x, width, kind }, top, sizePx, onTab }: FreeTabProps) {
  const height = sizePx * TAB_HEIGHT;
  const isComing = kind === 'coming';
  const dashes = isComing ? styles.next : '';
  return (
    <g
      className={isComing ? styles.coming : onTab === undefined ? '' : styles.touchable}
      data-tab={tab.role}
      data-key-of-tab={tab.midi}
      data-family={tab.isSecond === true ? 'second' : 'first'}
      onPointerDown={isComing ? undefined : () => onTab?.(tab)}
    >
      <g className={styles.slides} style={{ transform: `translate(${x}px, ${top}px)` }}>
        <path
          className={`${tab.role === 'now' ? styles.filled : styles.outline} ${dashes}`}
          d={outlineOf(width, height)}
        />
        {tab.isSecond === true && (
          <path
            className={`${tab.role === 'now' ? styles.innerNow : styles.inner} ${dashes}`}
            d={outlineOf(width - 9, height - 9)}
            transform="translate(0 4.5)"
          />
        )}
        <text className={tab.role === 'now' ? styles.nameNow : styles.name} y={sizePx * 0.87} fontSize={sizePx}>
          {tab.name}
        </text>
      </g>
    </g>
  );
}
