import styles from './ThumbTab.module.css';

/** The sign of a thumb: solid where the hand is, outlined where it could be, in brackets where it was wanted and not found. */
export function ThumbTab({
  name,
  isHere = false,
  isWanted = false,
  isLarge = false,
}: {
  readonly name: string;
  readonly isHere?: boolean;
  readonly isWanted?: boolean;
  readonly isLarge?: boolean;
}) {
  return (
    <span
      className={styles.tab}
      data-here={isHere || undefined}
      data-wanted={isWanted || undefined}
      data-large={isLarge || undefined}
    >
      {isWanted ? `(${name})` : name}
    </span>
  );
}
