import { useEffect, useRef, type ReactNode } from 'react';
import styles from './Panel.module.css';

/** A part of the screen that is folded until it is needed. */
export function Panel({
  title,
  startsOpen = false,
  children,
}: {
  readonly title: string;
  readonly startsOpen?: boolean;
  readonly children: ReactNode;
}) {
  const box = useRef<HTMLDetailsElement>(null);
  // folded and unfolded by hand from then on
  useEffect(() => {
    if (startsOpen && box.current !== null) box.current.open = true;
  }, [startsOpen]);
  return (
    <details ref={box} className={styles.panel}>
      <summary>
        <h2>{title}</h2>
      </summary>
      <div className={styles.fields}>{children}</div>
    </details>
  );
}
