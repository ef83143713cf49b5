import {
  memo,
  useEffect,
  useLayoutEffect,
  useRef,
  useState,
  type ClipboardEvent,
  type KeyboardEvent,
  type MouseEvent,
} from 'react';
import {
  $barEdit,
  $chosenBar,
  $focusAsked,
  $page,
  beginEdit,
  cancelEdit,
  chooseBar,
  chordsTextOf,
  emptyBar,
  endEdit,
  newBarAfter,
  redoChange,
  takeBarOut,
  undoChange,
  writeBars,
  type BarEdit,
  type BarView,
  type SectionView,
} from '../../features/chart-editing/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { BarCell, ChordField } from './BarCell.tsx';
import styles from './ChartGrid.module.css';

const w = words.chart;
const BARS_IN_ROW = 4;

interface RowProps {
  readonly bars: readonly BarView[];
  readonly current: number | null;
  readonly edit: BarEdit | null;
  /** The index of the place for a new bar, where it is in this row. */
  readonly hasNew: number | null;
}

/** A system: bars that are read together. */
const Row = memo(function Row({ bars, current, edit, hasNew }: RowProps) {
  return (
    <div role="row" className={bars.length === 0 ? `${styles.row} ${styles.alone}` : styles.row}>
      {bars.map((bar) => (
        <BarCell
          key={bar.index}
          bar={bar}
          isCurrent={bar.index === current}
          edit={edit?.index === bar.index ? edit : null}
        />
      ))}
      {hasNew !== null && (
        <div
          role="gridcell"
          className={styles.newBar}
          data-bar={hasNew}
          tabIndex={current === hasNew && edit?.index !== hasNew ? 0 : -1}
          aria-label={w.newBar}
        >
          {edit?.index === hasNew ? (
            <ChordField edit={edit} label={w.chordsOfNew} />
          ) : (
            <>
              <span aria-hidden="true">+</span> {w.newBar}
              <span className={styles.hint}>{w.newBarHint}</span>
            </>
          )}
        </div>
      )}
    </div>
  );
}, sameRow);

function sameRow(a: Readonly<RowProps>, b: Readonly<RowProps>): boolean {
  return (
    a.current === b.current &&
    a.edit === b.edit &&
    a.hasNew === b.hasNew &&
    a.bars.length === b.bars.length &&
    a.bars.every((bar, index) => bar === b.bars[index])
  );
}

/** Rows of four; a pickup stands before the first by itself. */
function rowsOf(section: SectionView): (readonly BarView[])[] {
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

/** The number of the bar an element is of. */
function barOf(target: EventTarget): number | null {
  const cell = (target as Element).closest('[data-bar]');
  return cell === null ? null : Number((cell as HTMLElement).dataset['bar']);
}

/** The bar above or below another on the screen, whatever the width; null where there is none. */
function barBeside(grid: HTMLElement, index: number, isDown: boolean): number | null {
  const cells = [...grid.querySelectorAll<HTMLElement>('[data-bar]')];
  const here = cells.find((cell) => cell.dataset['bar'] === String(index))?.getBoundingClientRect();
  if (here === undefined) return null;
  let best: { readonly index: number; readonly far: number } | null = null;
  for (const cell of cells) {
    const there = cell.getBoundingClientRect();
    const down = isDown ? there.top - here.bottom : here.top - there.bottom;
    if (down < -2) continue;
    const far = down * 10 + Math.abs(there.left - here.left);
    if (best === null || far < best.far) best = { index: Number(cell.dataset['bar']), far };
  }
  return best === null ? null : best.index;
}

/** The first or last bar of a bar's line as it is on the screen: a section's last line is short, a narrow screen has two in each. */
function edgeOfLine(grid: HTMLElement | null, index: number, edge: 'first' | 'last'): number {
  const cells = [...(grid?.querySelectorAll<HTMLElement>('[data-bar]') ?? [])];
  const here = cells.find((cell) => cell.dataset['bar'] === String(index))?.getBoundingClientRect().top;
  if (here === undefined) return index;
  const line = cells.filter((cell) => Math.abs(cell.getBoundingClientRect().top - here) < 2);
  return Number(line.at(edge === 'first' ? 0 : -1)?.dataset['bar'] ?? index);
}

/** The chart as a page of bars, to be written in place. */
export const ChartGrid = memo(function ChartGrid({ say }: { readonly say: (text: string) => void }) {
  const page = useStore($page);
  const chosen = useStore($chosenBar);
  const edit = useStore($barEdit);
  const grid = useRef<HTMLDivElement>(null);
  /** Whether the focus follows the chosen bar after the next rendering. */
  const takesFocus = useRef(false);
  /** After Escape, Tab leaves the bars instead of going to the next. */
  const [isLeaving, setIsLeaving] = useState(false);
  const count = page.bars.length;
  const current = Math.min(chosen, count);

  // a page that is left by the browser's Back tells no field that it has lost the focus
  useEffect(() => endEdit, []);

  const asked = useStore($focusAsked);
  const answered = useRef(asked);
  /** Whether the bar that is written was chosen by a finger. */
  const isByTouch = useRef(false);
  /** Whether the bar that is written was pressed, by mouse or finger: what is there is chosen, typing takes its place. */
  const isPressed = useRef(false);
  const wasNew = useRef<boolean | null>(null);
  useLayoutEffect(() => {
    if (answered.current !== asked) takesFocus.current = true;
    answered.current = asked;
    // the field of a new bar becomes that of a bar with the first letter: another field, which goes on being typed into
    const isNew = edit === null ? null : edit.index >= count;
    if (isNew !== null && wasNew.current !== null && isNew !== wasNew.current) takesFocus.current = true;
    wasNew.current = isNew;
    if (!takesFocus.current) return;
    takesFocus.current = false;
    const cell = grid.current?.querySelector<HTMLElement>(`[data-bar="${edit?.index ?? current}"]`);
    const field = cell?.querySelector('input');
    if (field == null) cell?.focus();
    else if (!field.matches(':focus')) {
      field.focus();
      // a bar that was pressed is written anew, as one that is typed on; a second press puts the caret where one wants it
      field.setSelectionRange(isPressed.current ? 0 : field.value.length, field.value.length);
    }
    isPressed.current = false;
  });

  const move = (index: number): void => {
    takesFocus.current = true;
    endEdit();
    chooseBar(index);
  };
  const write = (index: number, draft?: string): void => {
    takesFocus.current = true;
    beginEdit(index, draft);
  };

  /** Keys that do the same whether a bar is written or only chosen. @returns whether the key was one of them */
  const takeEitherKey = (event: KeyboardEvent, index: number): boolean => {
    const { key, shiftKey } = event;
    const isCommand = event.ctrlKey || event.metaKey;
    takesFocus.current = true;
    if (isCommand && (key === 'z' || key === 'Z')) {
      if (shiftKey) redoChange();
      else undoChange();
      say(shiftKey ? w.said.redone : w.said.undone);
    } else if (isCommand && (key === 'y' || key === 'Y')) {
      redoChange();
      say(w.said.redone);
    } else if (isCommand && key === 'Enter') {
      newBarAfter(index);
      say(w.said.barIn);
    } else if (key === 'Tab' && !isCommand && !event.altKey) {
      const next = index + (shiftKey ? -1 : 1);
      // at either end, and after Escape, Tab does what it does everywhere
      if (isLeaving || next < 0 || next > barsNow()) {
        takesFocus.current = false;
        endEdit();
        return true;
      }
      move(next);
    } else if (key === '|') move(index + 1);
    else if (key === 'ArrowUp' || key === 'ArrowDown') {
      if (isCommand || event.altKey) {
        // the browser's own, or nobody's
        takesFocus.current = false;
        return false;
      }
      const next = grid.current === null ? null : barBeside(grid.current, index, key === 'ArrowDown');
      move(next ?? index);
    } else {
      takesFocus.current = false;
      return false;
    }
    event.preventDefault();
    return true;
  };

  const takeFieldKey = (event: KeyboardEvent, index: number, field: HTMLInputElement): void => {
    const { key } = event;
    if (event.nativeEvent.isComposing || takeEitherKey(event, index)) return;
    const isPlain = !event.ctrlKey && !event.metaKey && !event.altKey && !event.shiftKey;
    const isAlone = field.selectionStart === field.selectionEnd;
    if (key === 'Enter') {
      // a keyboard on the screen has no Tab: its key for going on does that
      if (isByTouch.current && index < barsNow()) write(index + 1);
      else move(index);
    } else if (key === 'Escape') {
      takesFocus.current = true;
      cancelEdit();
      chooseBar(index);
    } else if (isPlain && key === 'ArrowRight' && isAlone && field.selectionEnd === field.value.length) move(index + 1);
    else if (isPlain && key === 'ArrowLeft' && isAlone && field.selectionStart === 0) move(index - 1);
    else return;
    event.preventDefault();
  };

  const takeCellKey = (event: KeyboardEvent, index: number): void => {
    const { key } = event;
    if (takeEitherKey(event, index)) return;
    const isCommand = event.ctrlKey || event.metaKey;
    if (key === 'Escape') {
      setIsLeaving(true);
      return;
    }
    if (key === 'ArrowRight') move(index + 1);
    else if (key === 'ArrowLeft') move(index - 1);
    else if (key === 'Home') move(isCommand ? 0 : edgeOfLine(grid.current, index, 'first'));
    else if (key === 'End') move(isCommand ? barsNow() : edgeOfLine(grid.current, index, 'last'));
    else if (key === 'Enter' || key === 'F2') write(index);
    else if ((key === 'Delete' || key === 'Backspace') && isCommand) {
      takesFocus.current = true;
      takeBarOut(index);
      say(w.said.barOut);
    } else if (key === 'Delete' || key === 'Backspace') {
      takesFocus.current = true;
      emptyBar(index);
    } else if (key.length === 1 && key !== ' ' && !isCommand && !event.altKey) write(index, key);
    else return;
    event.preventDefault();
  };

  const takeKey = (event: KeyboardEvent): void => {
    const index = barOf(event.target);
    // a button in a bar is pressed with the keys of all buttons
    if (index === null || event.target instanceof HTMLButtonElement) return;
    if (event.key !== 'Tab' && event.key !== 'Escape' && event.key !== 'Shift' && isLeaving) setIsLeaving(false);
    if (event.target instanceof HTMLInputElement) takeFieldKey(event, index, event.target);
    else takeCellKey(event, index);
  };

  const takeClick = (event: MouseEvent): void => {
    const index = barOf(event.target);
    if (index === null || (event.target as Element).closest('input, button') !== null) return;
    isByTouch.current = event.nativeEvent instanceof PointerEvent && event.nativeEvent.pointerType === 'touch';
    isPressed.current = true;
    write(index);
  };

  const takePaste = (event: ClipboardEvent): void => {
    const index = barOf(event.target);
    const text = event.clipboardData.getData('text/plain');
    if (index === null || text.trim() === '') return;
    // in a field only what is longer than a bar is ours
    if (event.target instanceof HTMLInputElement && !/[|\n\r]/u.test(text.trim())) return;
    event.preventDefault();
    takesFocus.current = true;
    writeBars(index, text);
  };

  const takeCopy = (event: ClipboardEvent): void => {
    const index = barOf(event.target);
    const open = $open.get();
    if (index === null || open === null || event.target instanceof HTMLInputElement) return;
    event.preventDefault();
    event.clipboardData.setData('text/plain', chordsTextOf(open.chartText, index));
  };

  const lastSection = page.sections.at(-1);
  return (
    <div
      ref={grid}
      role="grid"
      tabIndex={-1}
      aria-label={w.bars}
      aria-describedby="chart-grid-help"
      className={styles.grid}
      onKeyDown={takeKey}
      onClick={takeClick}
      onPaste={takePaste}
      onCopy={takeCopy}
      onFocus={(event) => {
        const index = barOf(event.target);
        if (index !== null && index !== $chosenBar.get()) chooseBar(index);
      }}
      onBlur={(event) => {
        const isInside = event.currentTarget.contains(event.relatedTarget);
        if (!isInside) setIsLeaving(false);
        if (!isInside && event.target instanceof HTMLInputElement && !takesFocus.current) endEdit();
      }}
    >
      {page.sections.map((section) => {
        const rows = rowsOf(section);
        return (
          <div key={section.index} role="rowgroup" className={styles.section}>
            {section.name !== null && (
              <div role="row" className={styles.nameRow}>
                <div role="rowheader" className={styles.name} aria-label={w.sectionOf(section.name)}>
                  {section.name}
                </div>
              </div>
            )}
            {rows.map((bars, index) => {
              const first = bars[0]?.index ?? 0;
              const isNewHere =
                section === lastSection &&
                index === rows.length - 1 &&
                bars.length < BARS_IN_ROW &&
                bars[0]?.number !== 0;
              const isIn = (each: number): boolean =>
                (each >= first && each < first + bars.length) || (isNewHere && each === count);
              return (
                <Row
                  key={index}
                  bars={bars}
                  current={isIn(current) ? current : null}
                  edit={edit !== null && isIn(edit.index) ? edit : null}
                  hasNew={isNewHere ? count : null}
                />
              );
            })}
          </div>
        );
      })}
      {isNewAlone(lastSection) && (
        <div role="rowgroup" className={styles.section}>
          <Row
            bars={[]}
            current={current === count ? current : null}
            edit={edit?.index === count ? edit : null}
            hasNew={count}
          />
        </div>
      )}
    </div>
  );
});

/** How many bars there are now: a change may just have been made. */
function barsNow(): number {
  return $page.get().bars.length;
}

/** Whether the place for a new bar needs a row of its own. */
function isNewAlone(last: SectionView | undefined): boolean {
  const bars = last?.bars ?? [];
  const inRows = bars[0]?.number === 0 ? bars.length - 1 : bars.length;
  return inRows % BARS_IN_ROW === 0;
}
