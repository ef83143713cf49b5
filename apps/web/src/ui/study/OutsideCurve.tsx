import { FURTHEST_WISH } from '@fivespan/core';
import { useId, useMemo, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import { curvePoints, setWish, takeCurveBack, type CurvePoint, type Study } from '../../features/study/index.ts';
import { useRoom } from '../keyboard/use-room.ts';
import { words } from '../words/index.ts';
import styles from './OutsideCurve.module.css';

/** Below this width, in letters' heights, a row has half as many bars. */
const WIDE_EM = 44;

/** How far outside a place in a column is: its height in equal steps. */
function wishAt({ top, height }: DOMRect, clientY: number): number {
  const share = Math.min(0.999, Math.max(0, 1 - (clientY - top) / height));
  return Math.floor(share * (FURTHEST_WISH + 1));
}

/** A stroke that leaves a column at its top or foot by this much is still in it. */
const SLACK_PX = 12;

/** The point a key leads to; undefined for a key that leads nowhere. */
function pointAfterKey(key: string, at: number, count: number): number | undefined {
  if (key === 'ArrowLeft') return Math.max(0, at - 1);
  if (key === 'ArrowRight') return Math.min(count - 1, at + 1);
  return undefined;
}

/** How far outside a key makes a point; undefined for another key. */
function wishAfterKey(key: string, wish: number): number | undefined {
  switch (key) {
    case 'ArrowUp':
      return Math.min(FURTHEST_WISH, wish + 1);
    case 'ArrowDown':
      return Math.max(0, wish - 1);
    case 'Home':
      return 0;
    case 'End':
      return FURTHEST_WISH;
    default:
      return undefined;
  }
}

/** How far outside the hand goes, bar by bar over the form: the level's own curve, or the teacher's, drawn over it. */
export function OutsideCurve({ study }: { readonly study: Study }) {
  const { lesson, choices } = study;
  const points = useMemo(() => curvePoints(lesson, choices.curve), [lesson, choices.curve]);
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const id = useId();
  const [focused, setFocused] = useState(0);
  // where the columns were when a stroke began: what it changes may push the page about under the pointer
  const stroke = useRef({ number: 0, columns: [] as DOMRect[] });
  const isOwn = choices.curve.length > 0;
  const barsInRow = room === null || room.widthEm >= WIDE_EM ? 16 : 8;
  const current = Math.min(focused, points.length - 1);

  const draw = (event: PointerEvent<HTMLElement>): void => {
    const { number, columns } = stroke.current;
    const at = columns.findIndex(
      ({ left, right, top, bottom }) =>
        event.clientX >= left &&
        event.clientX < right &&
        event.clientY >= top - SLACK_PX &&
        event.clientY < bottom + SLACK_PX,
    );
    const column = columns[at];
    if (column !== undefined) setWish(lesson, at, wishAt(column, event.clientY), `curve, stroke ${number}`);
  };
  const onKeyDown = (event: KeyboardEvent<HTMLElement>, at: number): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const to = pointAfterKey(event.key, at, points.length);
    const wish = wishAfterKey(event.key, points[at]?.wish ?? 0);
    if (to === undefined && wish === undefined) return;
    event.preventDefault();
    if (wish !== undefined) setWish(lesson, at, wish, `curve of ${at} by keys`);
    if (to === undefined) return;
    setFocused(to);
    box.current?.querySelector<HTMLElement>(`[data-point="${to}"]`)?.focus();
  };
  return (
    <section aria-labelledby={`${id}-curve`} className={styles.section}>
      <h2 id={`${id}-curve`} className="unseen">
        {words.study.curve}
      </h2>
      <p className={styles.state}>
        <span role="status">{isOwn ? words.study.curveOwn : words.study.curveComputed(choices.level)}</span>{' '}
        {isOwn && (
          <button
            type="button"
            onClick={() => {
              takeCurveBack();
              box.current?.querySelector<HTMLElement>('[tabindex="0"]')?.focus();
            }}
          >
            {words.study.curveTakeBack}
          </button>
        )}
      </p>
      <div
        ref={box}
        role="group"
        aria-labelledby={`${id}-curve`}
        aria-describedby={`${id}-help`}
        className={styles.curve}
        data-own={isOwn || undefined}
        style={{ gridTemplateColumns: `repeat(${Math.min(barsInRow, points.length)}, minmax(0, 5rem))` }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          const columns = [...event.currentTarget.querySelectorAll('[data-point]')];
          stroke.current = {
            number: stroke.current.number + 1,
            columns: columns.map((each) => each.getBoundingClientRect()),
          };
          draw(event);
        }}
        onPointerMove={(event) => {
          if (event.buttons === 1) draw(event);
        }}
      >
        <span className={styles.high} aria-hidden="true">
          {words.study.wish(FURTHEST_WISH)}
        </span>
        <span className={styles.low} aria-hidden="true">
          {words.study.wish(0)}
        </span>
        {points.map((point, at) => (
          <Point
            key={at}
            point={point}
            at={at}
            isCurrent={at === current}
            onFocus={() => setFocused(at)}
            onKeyDown={(event) => onKeyDown(event, at)}
          />
        ))}
      </div>
      <p id={`${id}-help`} className={styles.help}>
        {words.study.curveHelp}
      </p>
    </section>
  );
}

interface PointProps {
  readonly point: CurvePoint;
  readonly at: number;
  /** Whether it is the one that Tab comes to. */
  readonly isCurrent: boolean;
  readonly onFocus: () => void;
  readonly onKeyDown: (event: KeyboardEvent<HTMLElement>) => void;
}

function Point({ point: { fromBar, toBar, section, wish }, at, isCurrent, onFocus, onKeyDown }: PointProps) {
  const isMany = toBar !== fromBar;
  return (
    <div className={styles.cell}>
      <span className={styles.name} aria-hidden="true">
        {section}
      </span>
      <div
        role="slider"
        tabIndex={isCurrent ? 0 : -1}
        className={styles.column}
        data-point={at}
        aria-label={words.study.wishAt(fromBar, toBar)}
        aria-orientation="vertical"
        aria-valuemin={0}
        aria-valuemax={FURTHEST_WISH}
        aria-valuenow={wish}
        aria-valuetext={words.study.wish(wish)}
        title={words.study.wish(wish)}
        onFocus={onFocus}
        onKeyDown={onKeyDown}
      >
        <span className={styles.level} style={{ height: `${((wish + 0.5) * 100) / (FURTHEST_WISH + 1)}%` }} />
      </div>
      <span className={styles.number} aria-hidden="true">
        {isMany ? `${fromBar}–${toBar}` : fromBar === 0 ? '' : fromBar}
      </span>
    </div>
  );
}
