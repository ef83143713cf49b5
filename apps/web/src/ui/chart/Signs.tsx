import type { MarkName } from '@fivespan/core';
import { words } from '../words/index.ts';
import styles from './Signs.module.css';

/** Signs of the sign font (docs/type.md). */
const SIGNS: Partial<Record<MarkName, string>> = { segno: '𝄋', coda: '𝄌', 'to coda': '𝄌' };

/** A mark as it stands in a chart: segno and coda are signs, the others words. */
export function Mark({ mark }: { readonly mark: MarkName }) {
  const sign = SIGNS[mark];
  return (
    <span className={styles.mark}>
      {sign !== undefined && (
        <span className={styles.sign} aria-hidden="true">
          {sign}
        </span>
      )}
      {mark === 'segno' || mark === 'coda' ? (
        <span className="unseen">{words.chart.bar.mark[mark]}</span>
      ) : (
        words.chart.bar.mark[mark]
      )}
    </span>
  );
}

/** The barline with dots of a repeat. */
export function RepeatSign({ edge }: { readonly edge: 'start' | 'end' }) {
  return (
    <svg
      className={styles.repeat}
      data-edge={edge}
      viewBox="0 0 18 32"
      width="18"
      height="32"
      aria-hidden="true"
      fill="currentColor"
    >
      <path d="M0 0H4V32H0ZM7 0H8.5V32H7Z" />
      <circle cx="14" cy="11" r="2.5" />
      <circle cx="14" cy="21" r="2.5" />
    </svg>
  );
}
