import type { ReactNode } from 'react';
import styles from './Panel.module.css';

/** A part of the screen that is folded until it is needed. */
export function Panel({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <details className={styles.panel}>
      <summary>
        <h2>{title}</h2>
      </summary>
      <div className={styles.fields}>{children}</div>
    </details>
  );
}
