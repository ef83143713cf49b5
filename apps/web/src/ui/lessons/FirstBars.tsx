import { readChordSymbol } from '@fivespan/core';
import { ChordName } from '../chord/ChordName.tsx';
import styles from './Cover.module.css';

/** The first bars as one reads them, to know a tune by. */
export function FirstBars({
  bars,
  step,
}: {
  readonly bars: readonly (readonly string[])[];
  readonly step: 'small' | 'text';
}) {
  return (
    <p className={styles.bars} data-step={step} aria-hidden="true">
      {bars.map((symbols, index) => (
        // bars have no name but their place
        // oxlint-disable-next-line react/no-array-index-key
        <span key={index}>
          {symbols.map((symbol, place) => (
            // oxlint-disable-next-line react/no-array-index-key
            <Symbol key={place} symbol={symbol} step={step} />
          ))}
        </span>
      ))}
    </p>
  );
}

function Symbol({ symbol, step }: { readonly symbol: string; readonly step: 'small' | 'text' }) {
  if (symbol === '%') return <Repeat />;
  const read = readChordSymbol(symbol);
  return read.ok ? <ChordName chord={read.value} step={step} /> : <span>{symbol}</span>;
}

/** The bar before once more: a stroke between two points, drawn, so that no face need have it. */
function Repeat() {
  return (
    <svg className={styles.repeat} viewBox="0 0 22 16">
      <path d="M3 15 17 1h3L6 15z" />
      <circle cx="5" cy="4.5" r="2.2" />
      <circle cx="17" cy="11.5" r="2.2" />
    </svg>
  );
}
