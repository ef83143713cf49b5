import type { ChordSymbol } from '@fivespan/core';
import { chordPieces, type ChordPiece, type ChordStep } from '@fivespan/formats/type';
import styles from './ChordName.module.css';

/** What stands between letters and a sign depends on the letter. */
const GAPS: Readonly<Record<string, string | undefined>> = {
  F: styles.afterF,
  A: styles.afterA,
  C: styles.afterC,
  G: styles.afterC,
};

/** Pieces of one part, in order. */
function partsOf(pieces: readonly ChordPiece[]): ChordPiece[][] {
  const parts: ChordPiece[][] = [];
  for (const piece of pieces) {
    if (parts.at(-1)?.[0]?.part === piece.part) parts.at(-1)?.push(piece);
    else parts.push([piece]);
  }
  return parts;
}

/**
 * A chord symbol as it is printed: root large, kind smaller, alterations raised, accidentals in the letters' weight.
 * Its size is that of the text around it; `step` says how large that is: 'text' (16 to 27 px), 'small' (to 15 px),
 * 'large' (from 28 px), 'bench' (read from the keyboard).
 */
export function ChordName({ chord, step = 'text' }: { readonly chord: ChordSymbol; readonly step?: ChordStep }) {
  const parts = partsOf(chordPieces(chord, step));
  return (
    <span className={`${styles.chord} ${styles[step]}`}>
      {parts.map((pieces) => {
        const [{ part }] = pieces as [ChordPiece];
        const name = part === 'root' && chord.kind === 'no chord' ? 'kind' : part;
        return (
          <span key={part} className={styles[name]}>
            {pieces.map(({ text, isSign }, index) => {
              if (!isSign) return text;
              const before = pieces[index - 1]?.text.at(-1) ?? '';
              const gap = part === 'root' || part === 'bass' ? (GAPS[before] ?? styles.afterOther) : '';
              return (
                <i key={index} className={`${styles.sign} ${gap}`}>
                  {text}
                </i>
              );
            })}
          </span>
        );
      })}
    </span>
  );
}
