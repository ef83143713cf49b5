import type { MarkName } from '@fivespan/core';
import { words } from '../words/index.ts';
import styles from './Signs.module.css';

/** Segno and coda, drawn by hand: few fonts have them. */
const DRAWN: Partial<Record<MarkName, React.ReactNode>> = {
  segno: (
    <svg className={styles.sign} viewBox="0 0 20 24" aria-hidden="true">
      <path
        d="M14.5 7.5 C14.5 3 6 2.5 6 7.2 C6 12 14.5 11.8 14.5 16.8 C14.5 21.5 5.5 21 5.5 16.5"
        fill="none"
        stroke="currentColor"
        strokeWidth="2.4"
        strokeLinecap="round"
      />
      <path d="M3 21.5 L17 2.5" stroke="currentColor" strokeWidth="1.6" />
      <circle cx="3.6" cy="12.6" r="1.7" fill="currentColor" />
      <circle cx="16.6" cy="11.4" r="1.7" fill="currentColor" />
    </svg>
  ),
  coda: (
    <svg className={styles.sign} viewBox="0 0 20 24" aria-hidden="true">
      <ellipse cx="10" cy="12" rx="5.4" ry="7.2" fill="none" stroke="currentColor" strokeWidth="2.2" />
      <path d="M10 1 V23 M1 12 H19" stroke="currentColor" strokeWidth="1.5" />
    </svg>
  ),
};

/** A mark as it stands in a chart. */
export function Mark({ mark }: { readonly mark: MarkName }) {
  return (
    <span className={styles.mark}>
      {DRAWN[mark]}
      {mark === 'to coda' && DRAWN.coda}
      {words.chart.bar.mark[mark]}
    </span>
  );
}
