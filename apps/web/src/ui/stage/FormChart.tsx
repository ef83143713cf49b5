import type { ChordSymbol } from '@fivespan/core';
import { useId, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react';
import { ChordName } from '../chord/ChordName.tsx';
import { words } from '../words/index.ts';
import styles from './FormChart.module.css';

const w = words.play;

/** Of more bars than this, each is one line high where there are eight to a row: the whole form is seen beside the hand. */
const VERY_LONG = 32;

/** A bar of the form, repeats written out. */
export interface FormCell {
  readonly number: number;
  /** `9, second time` */
  readonly name: string;
  /** Where a section begins that has one. */
  readonly section: string | null;
  readonly chords: readonly ChordSymbol[];
  readonly isAsBefore: boolean;
}

interface FormChartProps {
  readonly cells: readonly FormCell[];
  /** The bar one is in. */
  readonly now: number;
  readonly loop: { readonly from: number; readonly to: number } | null;
  readonly onGoTo: (bar: number) => void;
  readonly onLoop: (from: number, to: number) => void;
}

/** The bar an event is at; null beside all of them. */
function barAt({ clientX, clientY, currentTarget }: PointerEvent<HTMLElement>): number | null {
  const cell = currentTarget.ownerDocument.elementFromPoint(clientX, clientY)?.closest<HTMLElement>('[data-cell]');
  return cell === null || cell === undefined ? null : Number(cell.dataset['cell']);
}

/**
 * The form: the chart itself, small and numbered. Tap a bar to go there; drag over some to play them again and again (by keys: arrows
 * go from bar to bar, with Shift they choose bars for that).
 */
export function FormChart({ cells, now, loop, onGoTo, onLoop }: FormChartProps) {
  const id = useId();
  const list = useRef<HTMLOListElement>(null);
  /** Bars that are being chosen, from where to where, by finger, mouse or keys. */
  const [drag, setDrag] = useState<{ readonly from: number; readonly to: number } | null>(null);
  const wasDragged = useRef(false);
  const [reached, setReached] = useState<number | null>(null);
  const stop = Math.min(reached ?? now, cells.length - 1);
  const shown = drag !== null && drag.from !== drag.to ? ordered(drag) : loop;

  const takeKey = (event: KeyboardEvent, bar: number): void => {
    const step = {
      ArrowRight: 1,
      ArrowLeft: -1,
      ArrowDown: columnsOf(list.current),
      ArrowUp: -columnsOf(list.current),
    }[event.key];
    if (event.key === 'Escape' && drag !== null) setDrag(null);
    if (step === undefined) return;
    event.preventDefault();
    const to = Math.max(0, Math.min(cells.length - 1, bar + step));
    setReached(to);
    setDrag(event.shiftKey ? { from: drag?.from ?? bar, to } : null);
    list.current?.querySelector<HTMLElement>(`[data-cell="${to}"]`)?.focus();
  };
  const finish = ({ from, to }: { readonly from: number; readonly to: number }): void => {
    const chosen = ordered({ from, to });
    setDrag(null);
    onLoop(chosen.from, chosen.to);
  };
  return (
    <>
      <p className="unseen" id={id}>
        {w.formHelp}
      </p>
      <ol
        ref={list}
        className={styles.form}
        data-very-long={cells.length > VERY_LONG || undefined}
        aria-label={w.form}
        aria-describedby={id}
        onPointerDown={(event) => {
          const bar = barAt(event);
          wasDragged.current = false;
          if (bar !== null && event.button === 0) setDrag({ from: bar, to: bar });
        }}
        onPointerMove={(event) => {
          if (drag === null || event.buttons === 0) return;
          const bar = barAt(event);
          if (bar === null || bar === drag.to) return;
          event.currentTarget.setPointerCapture(event.pointerId);
          setDrag({ from: drag.from, to: bar });
        }}
        onPointerUp={() => {
          if (drag === null) return;
          // a finger that came back to where it began has chosen nothing but that bar
          wasDragged.current = drag.from !== drag.to;
          if (wasDragged.current) finish(drag);
          else setDrag(null);
        }}
        onPointerCancel={() => setDrag(null)}
      >
        {cells.map((cell, index) => {
          const isIn = shown !== null && index >= shown.from && index <= shown.to;
          return (
            <li key={index} className={styles.cell} aria-current={index === now ? 'step' : undefined}>
              <button
                data-cell={index}
                className={[
                  styles.bar,
                  index === now ? styles.now : '',
                  isIn ? styles.isIn : '',
                  isIn && index === shown.from ? styles.first : '',
                  isIn && index === shown.to ? styles.last : '',
                ].join(' ')}
                tabIndex={index === stop ? 0 : -1}
                onKeyDown={(event) => takeKey(event, index)}
                onClick={() => {
                  if (wasDragged.current) wasDragged.current = false;
                  else if (drag !== null && drag.from !== index) finish({ from: drag.from, to: index });
                  else onGoTo(index);
                }}
              >
                <span className={styles.number} aria-hidden="true">
                  {cell.number}
                </span>
                {cell.section !== null && (
                  <span className={styles.section} aria-hidden="true">
                    {cell.section}
                  </span>
                )}
                <span
                  className={styles.chords}
                  data-crowded={lettersOf(cell.chords) > MOST_LETTERS || undefined}
                  aria-hidden="true"
                >
                  {cell.isAsBefore ? <span className={styles.same}>𝄎</span> : <Chords chords={cell.chords} />}
                </span>
                <span className="unseen">
                  {isIn && `${w.inLoop}, `}
                  {cell.section !== null && `${w.section(cell.section)}, `}
                  {w.startBar} {cell.name}
                </span>
              </button>
            </li>
          );
        })}
      </ol>
    </>
  );
}

/** More letters than these are set smaller: a cell is narrow. */
const MOST_LETTERS = 9;

function lettersOf(chords: readonly ChordSymbol[]): number {
  return chords.reduce((sum, { symbol }) => sum + symbol.length, 0);
}

function Chords({ chords }: { readonly chords: readonly ChordSymbol[] }) {
  // two of one kind in a bar are two chords
  return chords.map((chord, place) => <ChordName key={place} chord={chord} step="text" />);
}

function ordered({ from, to }: { readonly from: number; readonly to: number }): { from: number; to: number } {
  return { from: Math.min(from, to), to: Math.max(from, to) };
}

/** How many bars stand in a row now. */
function columnsOf(list: HTMLElement | null): number {
  const cells = [...(list?.children ?? [])] as HTMLElement[];
  const top = cells[0]?.offsetTop;
  const below = cells.findIndex(({ offsetTop }) => offsetTop !== top);
  return below < 0 ? cells.length : below;
}
