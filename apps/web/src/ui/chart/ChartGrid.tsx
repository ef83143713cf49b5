import { memo, useEffect, useRef, type ClipboardEvent, type MouseEvent } from 'react';
import {
  $barEdit,
  $chosenBar,
  $page,
  chooseBar,
  chordsTextOf,
  endEdit,
  writeBars,
} from '../../features/chart-editing/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './ChartGrid.module.css';
import { barOf } from './grid-places.ts';
import { hasRoomForNew, isNewAlone, rowsOf } from './grid-rows.ts';
import { GridRow } from './GridRow.tsx';
import { useGridFocus } from './use-grid-focus.ts';
import { useGridKeys } from './use-grid-keys.ts';

const w = words.chart;

/** The chart as a page of bars, to be written in place. */
export const ChartGrid = memo(function ChartGrid({ say }: { readonly say: (text: string) => void }) {
  const page = useStore($page);
  const chosen = useStore($chosenBar);
  const edit = useStore($barEdit);
  const grid = useRef<HTMLDivElement>(null);
  const count = page.bars.length;
  const current = Math.min(chosen, count);
  const focus = useGridFocus(grid, edit, current, count);
  const { takeKey, hasLeft } = useGridKeys(grid, focus, say);

  // a page that is left by the browser's Back tells no field that it has lost the focus
  useEffect(() => endEdit, []);

  const takeClick = (event: MouseEvent): void => {
    const index = barOf(event.target);
    if (index === null || (event.target as Element).closest('input, button') !== null) return;
    focus.press(index, event.nativeEvent instanceof PointerEvent && event.nativeEvent.pointerType === 'touch');
  };

  const takePaste = (event: ClipboardEvent): void => {
    const index = barOf(event.target);
    const text = event.clipboardData.getData('text/plain');
    if (index === null || text.trim() === '') return;
    // in a field only what is longer than a bar is ours
    if (event.target instanceof HTMLInputElement && !/[|\n\r]/u.test(text.trim())) return;
    event.preventDefault();
    focus.follow(true);
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
        if (!isInside) hasLeft();
        if (!isInside && event.target instanceof HTMLInputElement && !focus.isFollowing()) endEdit();
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
              const isNewHere = section === lastSection && index === rows.length - 1 && hasRoomForNew(bars);
              const isIn = (each: number): boolean =>
                (each >= first && each < first + bars.length) || (isNewHere && each === count);
              return (
                <GridRow
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
          <GridRow
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
