import styles from './ThumbTab.module.css';

/** The sign of a thumb: solid where the hand lies, outlined where it could. */
export function ThumbTab({ name, isHere }: { readonly name: string; readonly isHere: boolean }) {
  return (
    <span className={styles.tab} data-here={isHere || undefined}>
      {name}
    </span>
  );
}
