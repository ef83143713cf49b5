import { messageOf, remedyOf, type Issue } from '@fivespan/core';
import styles from './FaultNote.module.css';

/** What is wrong and what would be right, with its sign. */
export function FaultNote({ issues, id }: { readonly issues: readonly Issue[]; readonly id?: string }) {
  return (
    <span className={styles.note} id={id}>
      {issues.map((issue, index) => (
        <span className={styles.fault} key={index}>
          <span className={styles.sign} aria-hidden="true">
            ✕
          </span>
          <span>
            {messageOf(issue)}; <span className={styles.right}>{remedyOf(issue)}</span>
          </span>
        </span>
      ))}
    </span>
  );
}
