import { isBlack, type Midi } from '@fivespan/core';
import { useMemo, useRef } from 'react';
import { useRoom } from '../keyboard/use-room.ts';
import { freeRows, type FreeRoom, type FreeRows } from './free-tabs.ts';
import { FreeTabs, freeTabsHeightPx } from './FreeTabs.tsx';
import { keyRects, type KeyRect } from './key-rects.ts';
import { KeyMarks } from './KeyMarks.tsx';
import { placeInRow, tabWidthPx } from './place-tabs.ts';
import type { StageKeys, StageMark, StageTab } from './stage-content.ts';
import { BENCH_FROM_PX, freeStretch, stageStretch } from './stage-stretch.ts';
import styles from './StageKeyboard.module.css';

/** Read from the bench: 57 px is 16.2′ on a tablet, 63 px on a phone; a phone's fingers are for near reading. */
const BENCH = { tab: 57, finger: 57, coming: 40 };
const PHONE = { tab: 63, finger: 32, coming: 34 };

const FELT_PX = 7;
const LIP_PX = 9;
/** A tab is a little higher than its letters, and hangs a little over the keys' front edge. */
const TAB_HEIGHT = 1.13;
const TAB_OVER_PX = 6;
const SHORTEST_KEY_PX = 110;
/** A free hand's keys are narrower; their fingers are read from the bench all the same. */
const SHORTEST_FREE_KEY_PX = 150;
/** A phone's are for near reading, and have no fingers on them. */
const SHORTEST_FREE_PHONE_KEY_PX = 96;
/** Keys longer than so many of their widths look like boards. */
const LONGEST_KEY_WIDTHS = 4.5;
/** Of a letter's size: a capital's height, in the sans. */
const CAPITAL = 0.66;
/** A digit's width, in the same measure. */
const DIGIT = 0.5;
/** Of a white key's front, in front of the black ones: a finger takes no more of it. */
const MOST_OF_FRONT = 0.8;

interface StageKeyboardProps {
  readonly content: StageKeys;
  /** Keys that are down on a connected keyboard. */
  readonly marks?: readonly StageMark[];
  /** A free hand's tab is touched. */
  readonly onTab?: (tab: StageTab) => void;
}

/**
 * The keys, from edge to edge, with the hand on them and tabs below. Its box has the room that its parent gives it: what is drawn
 * never changes its size.
 */
export function StageKeyboard({ content, marks = [], onTab }: StageKeyboardProps) {
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const widthPx = room?.widthPx ?? 0;
  const { everyFreeSet } = content;
  const free = useMemo(
    () => (everyFreeSet === null || widthPx === 0 ? null : freeRoomFor(everyFreeSet, widthPx)),
    [everyFreeSet, widthPx],
  );
  return (
    <div
      ref={box}
      className={styles.keys}
      data-stage-keys
      data-free={everyFreeSet === null ? undefined : ''}
      style={free === null ? {} : { minHeight: FELT_PX + free.shortestKeyPx + free.heightPx }}
    >
      {room !== null && widthPx > 0 && (
        <Keys content={content} free={free} marks={marks} onTab={onTab} widthPx={widthPx} heightPx={room.heightPx} />
      )}
    </div>
  );
}

/** The room that a free hand's tabs take, whatever is shown of a piece. */
interface FreeTabsRoom {
  readonly room: FreeRoom;
  readonly rows: FreeRows;
  readonly heightPx: number;
  readonly shortestKeyPx: number;
}

function freeRoomFor(sets: NonNullable<StageKeys['everyFreeSet']>, widthPx: number): FreeTabsRoom {
  const isPhone = widthPx < BENCH_FROM_PX;
  const size = isPhone ? PHONE : BENCH;
  const { lowest, highest } = freeStretch(widthPx);
  const keys = new Map(keyRects(lowest, highest, widthPx, 1).map((key) => [key.midi as number, key]));
  const room: FreeRoom = {
    widthPx,
    whitePx: keys.get(lowest)?.width ?? 1,
    tabPx: size.tab,
    comingPx: size.coming,
    centreOf: (key) => keys.get(key)?.centre,
  };
  const rows = freeRows(sets, room);
  const shortestKeyPx = isPhone ? SHORTEST_FREE_PHONE_KEY_PX : SHORTEST_FREE_KEY_PX;
  return { room, rows, heightPx: freeTabsHeightPx(rows, room), shortestKeyPx };
}

interface KeysProps {
  readonly content: StageKeys;
  readonly free: FreeTabsRoom | null;
  readonly marks: readonly StageMark[];
  readonly onTab: ((tab: StageTab) => void) | undefined;
  readonly widthPx: number;
  readonly heightPx: number;
}

function Keys({ content: { hand, tabs, travels, label }, free, marks, onTab, widthPx, heightPx }: KeysProps) {
  const size = widthPx < BENCH_FROM_PX ? PHONE : BENCH;
  const seen = [...hand, ...tabs.map(({ midi }) => midi)];
  const { lowest, highest } = free === null ? stageStretch(widthPx, travels, seen) : freeStretch(widthPx);
  const tabHeight = free?.heightPx ?? size.tab * TAB_HEIGHT;
  const shortest = free?.shortestKeyPx ?? SHORTEST_KEY_PX;
  const rects = useMemo(() => {
    const room = heightPx - FELT_PX - tabHeight - 4;
    const white = keyRects(lowest, highest, widthPx, 1).find(({ black }) => !black)?.width ?? 1;
    const length = Math.max(shortest, Math.min(room, LONGEST_KEY_WIDTHS * white));
    return keyRects(lowest, highest, widthPx, Math.round(length));
  }, [lowest, highest, widthPx, heightPx, tabHeight, shortest]);
  const whites = rects.filter(({ black }) => !black);
  const blacks = rects.filter(({ black }) => black);
  const length = whites[0]?.length ?? 0;
  const blackLength = blacks[0]?.length ?? 0;
  const at = new Map(rects.map((key) => [key.midi, key]));
  const held = new Set(hand);
  return (
    <svg
      className={styles.picture}
      width={widthPx}
      height={FELT_PX + length + tabHeight}
      viewBox={`0 ${-FELT_PX} ${widthPx} ${FELT_PX + length + tabHeight}`}
      role="img"
      aria-label={label}
    >
      {whites.map((key) => (
        <g key={key.midi}>
          <rect
            data-key={key.midi}
            className={held.has(key.midi) ? styles.heldWhite : styles.white}
            x={key.x}
            y={0}
            width={key.width}
            height={length - LIP_PX}
          />
          <rect className={styles.lip} x={key.x} y={length - LIP_PX} width={key.width} height={LIP_PX} />
          {held.has(key.midi) && (
            <path className={styles.handLine} d={`M${key.x + 3} 0V${length - LIP_PX - 3}H${key.x + key.width - 3}V0`} />
          )}
        </g>
      ))}
      {blacks.map((key) => (
        <g key={key.midi}>
          <rect className={styles.black} x={key.x} y={-0.5} width={key.width} height={key.length + 0.5} rx={2} />
          {held.has(key.midi) && (
            <rect
              data-key={key.midi}
              className={styles.heldBlack}
              x={key.x + 2.6}
              y={0}
              width={key.width - 5.2}
              height={key.length - 3.6}
            />
          )}
        </g>
      ))}
      <path className={styles.frame} d={`M0.75 0V${length}H${widthPx - 0.75}V0`} />
      <rect className={styles.felt} x={0} y={-FELT_PX} width={widthPx} height={FELT_PX} />
      {free === null ? (
        <Tabs tabs={tabs} at={at} widthPx={widthPx} lengthPx={length} sizePx={size.tab} />
      ) : (
        <FreeTabs
          tabs={tabs}
          rows={free.rows}
          room={free.room}
          lengthPx={length}
          frontOf={(key) => (isBlack(key) ? blackLength - 6 : length - LIP_PX - 1)}
          onTab={onTab}
        />
      )}
      {hand.map((midi, finger) => {
        const key = at.get(midi);
        if (key === undefined) return null;
        const front = length - LIP_PX - blackLength;
        const fontSize = Math.min(size.finger, (front * MOST_OF_FRONT) / CAPITAL);
        const capital = fontSize * CAPITAL;
        // wider than a black key's tint, it needs a ground of its own
        const isWide = key.black && fontSize * DIGIT > key.width - 5;
        const y = key.black ? blackLength - 14 : blackLength + (front + capital) / 2;
        return (
          <text
            key={finger}
            className={isWide ? `${styles.finger} ${styles.grounded}` : styles.finger}
            data-finger
            x={key.centre}
            y={y}
            fontSize={fontSize}
          >
            {finger + 1}
          </text>
        );
      })}
      <KeyMarks marks={marks} rects={rects} widthPx={widthPx} blackLengthPx={blackLength} />
    </svg>
  );
}

interface TabsProps {
  readonly tabs: readonly StageTab[];
  readonly at: ReadonlyMap<Midi, KeyRect>;
  readonly widthPx: number;
  readonly lengthPx: number;
  readonly sizePx: number;
}

function Tabs({ tabs, at, widthPx, lengthPx, sizePx }: TabsProps) {
  const hanging = tabs.flatMap((tab) => {
    const key = at.get(tab.midi);
    return key === undefined ? [] : [{ tab, key, width: tabWidthPx(tab.name, sizePx) }];
  });
  const places = placeInRow(
    hanging.map(({ key, width }) => ({ keyX: key.centre, width })),
    widthPx,
  );
  return hanging.map(({ tab, key, width }, index) => {
    const x = places[index] ?? key.centre;
    const dashes = tab.role === 'next' ? styles.next : '';
    const top = lengthPx - TAB_OVER_PX;
    const height = sizePx * TAB_HEIGHT;
    const round = Math.min(width * 0.42, height / 2);
    const isAway = Math.abs(x - key.centre) > key.width * 0.3;
    const from = key.black ? key.length - 6 : lengthPx - LIP_PX;
    return (
      // the tab that is next becomes the one that is now: it stays where it is and fills
      <g
        key={`${tab.midi} ${tab.name}`}
        className={tab.role === 'next' ? styles.comes : styles.tab}
        data-tab={tab.role}
      >
        {(key.black || isAway) && (
          <>
            {/* down to the naturals' front, and along it: a slanting line would run over a finger's numeral */}
            <path
              className={`${styles.stem} ${dashes}`}
              d={`M${key.centre} ${from}V${lengthPx - LIP_PX / 2}H${x}V${top + 2}`}
            />
            {key.black && (
              <circle className={tab.role === 'now' ? styles.dotNow : styles.dot} cx={key.centre} cy={from} r={4} />
            )}
          </>
        )}
        <g className={styles.slides} style={{ transform: `translate(${x}px, ${top}px)` }}>
          <path
            className={`${tab.role === 'now' ? styles.filled : styles.outline} ${dashes}`}
            d={
              `M${-width / 2} 0h${width}v${height - round}a${round} ${round} 0 0 1 ${-round} ${round}` +
              `h${2 * round - width}a${round} ${round} 0 0 1 ${-round} ${-round}z`
            }
          />
          <text className={tab.role === 'now' ? styles.nameNow : styles.name} y={sizePx * 0.87} fontSize={sizePx}>
            {tab.name}
          </text>
        </g>
      </g>
    );
  });
}
