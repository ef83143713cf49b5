import { typeset } from '@fivespan/core';
import { memo } from 'react';
import { words } from '../words/index.ts';
import styles from './SymbolHelp.module.css';

const w = words.chart;

function Rows({
  head,
  rows,
  isPrinted,
}: {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly isPrinted: boolean;
}) {
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          {head.map((each) => (
            <th key={each} scope="col">
              {each}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(([written = '', means = '']) => (
          <tr key={written}>
            <th scope="row">
              <code>{written}</code> {isPrinted && <span className="serif">{typeset(written)}</span>}
            </th>
            <td>{means}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** How chords and bars are written, to be opened by who wants to know. */
export const SymbolHelp = memo(function SymbolHelp() {
  return (
    <details className={styles.help}>
      <summary>{w.symbols}</summary>
      <p>{w.symbolsIntro}</p>
      <div className={styles.tables}>
        <Rows head={w.symbolHead} rows={w.symbolRows} isPrinted />
        <Rows head={w.barHead} rows={w.barRows} isPrinted={false} />
      </div>
    </details>
  );
});
