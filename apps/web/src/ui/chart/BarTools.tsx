import { memo, useState, type ReactNode } from 'react';
import { $barTools, askForFocus, newBarAfter, newBarBefore, takeBarOut } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { BarSigns } from './BarSigns.tsx';
import styles from './BarTools.module.css';

const w = words.chart;

interface BarToolsProps {
  readonly say: (text: string) => void;
  /** What is done to all of the chart, beside it. */
  readonly children: ReactNode;
}

/** What can be done to the chosen bar beside its chords, always within reach at the foot of the window. */
export const BarTools = memo(function BarTools({ say, children }: BarToolsProps) {
  const bar = useStore($barTools);
  const [isOpen, setIsOpen] = useState(false);
  if (bar === null) {
    return (
      <section className={styles.tools} aria-label={w.bar.newTools}>
        <div className={styles.top}>
          <h2>{w.bar.newTools}</h2>
          <p className="soft">{w.bar.newHint}</p>
          <div className={styles.changes}>{children}</div>
        </div>
      </section>
    );
  }
  const { index } = bar;
  const put = (newBar: (index: number) => void): void => {
    newBar(index);
    askForFocus();
    say(w.said.barIn);
  };
  return (
    <section className={styles.tools} aria-label={w.bar.tools(w.barOf(bar.number))} data-open={isOpen}>
      <div className={styles.top}>
        <h2>{w.barOf(bar.number)}</h2>
        <button type="button" className={styles.opener} aria-expanded={isOpen} onClick={() => setIsOpen(!isOpen)}>
          {isOpen ? w.bar.less : w.bar.more}
        </button>
        <div className={styles.buttons}>
          <button type="button" className="plain" onClick={() => put(newBarBefore)}>
            {w.bar.before}
          </button>
          <button type="button" className="plain" onClick={() => put(newBarAfter)}>
            {w.bar.after}
          </button>
          <button
            type="button"
            className="plain"
            onClick={() => {
              takeBarOut(index);
              say(w.said.barOut);
            }}
          >
            {w.bar.remove}
          </button>
        </div>
        <div className={styles.changes}>{children}</div>
      </div>
      <div className={styles.more}>
        <BarSigns bar={bar} />
      </div>
    </section>
  );
});
