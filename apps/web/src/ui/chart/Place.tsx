import type { ReactNode } from 'react';
import styles from './Place.module.css';

/**
 * A place in a bar where a sign stands or may stand: the sign, filled where it is set, and its word. The control is `children`, a
 * checkbox or a list, over all of it.
 */
export function Place({
  label,
  isSet,
  sign,
  word,
  children,
}: {
  readonly label: string;
  readonly isSet: boolean;
  readonly sign: ReactNode;
  /** What is read beside the sign; none where the sign is a word. */
  readonly word?: string;
  readonly children: ReactNode;
}) {
  return (
    <span className={styles.place} data-set={isSet || undefined} title={label}>
      <span className={styles.sign} aria-hidden="true">
        {sign}
      </span>
      {word !== undefined && (
        <span className={styles.word} aria-hidden="true">
          {word}
        </span>
      )}
      {children}
    </span>
  );
}

/** A sign that is there or not. */
export function SignSwitch({
  label,
  sign,
  word,
  isSet,
  onChange,
}: {
  readonly label: string;
  readonly sign: ReactNode;
  readonly word?: string;
  readonly isSet: boolean;
  readonly onChange: (isSet: boolean) => void;
}) {
  return (
    <Place label={label} isSet={isSet} sign={sign} {...(word === undefined ? {} : { word })}>
      <input
        type="checkbox"
        aria-label={label}
        checked={isSet}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
    </Place>
  );
}
