import { memo } from 'react';
import type { BarEdit, BarView } from '../../features/chart-editing/index.ts';
import { words } from '../words/index.ts';
import { BarCell, ChordField } from './BarCell.tsx';
import styles from './ChartGrid.module.css';

const w = words.chart;

interface RowProps {
  readonly bars: readonly BarView[];
  readonly current: number | null;
  readonly edit: BarEdit | null;
  /** The index of the place for a new bar, where it is in this row. */
  readonly hasNew: number | null;
}

/** A system: bars that are read together. */
export const GridRow = memo(function GridRow({ bars, current, edit, hasNew }: RowProps) {
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
