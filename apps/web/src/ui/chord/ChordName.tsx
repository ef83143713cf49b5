import type { ChordSymbol } from '@fivespan/core';
import { chordText } from '@fivespan/formats/diagram';
import styles from './ChordName.module.css';

/** A chord symbol as it is printed: serif, its alterations raised. */
export function ChordName({ chord }: { readonly chord: ChordSymbol }) {
  const { root, quality, raised, bass } = chordText(chord);
  return (
    <span className={styles.chord}>
      {root}
      {quality}
      {raised !== '' && <sup>{raised}</sup>}
      {bass !== '' && `/${bass}`}
    </span>
  );
}
