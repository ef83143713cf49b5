import { formatKey } from '@fivespan/core';
import { useEffect } from 'react';
import { $openKey, settleKey, watchOpenKey } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './OpenKey.module.css';

const w = words.chart;

/** Where the chords leave the key open: the keys that may be meant, for the teacher to choose. The chart states it then. */
export function OpenKey({ say }: { readonly say: (text: string) => void }) {
  const open = useStore($openKey);
  const name = useKeyText();
  useEffect(watchOpenKey, []);
  if (open === null) return null;
  return (
    <p className={styles.open} role="group" aria-label={w.keyOpen}>
      <span>{w.keyOpen}</span>
      {[open.found, ...open.others].map((key, index) => (
        <button
          key={formatKey(key)}
          type="button"
          onClick={() => {
            settleKey(key);
            say(w.said.keyTaken(name(key)));
          }}
        >
          {index === 0 ? w.keyLikeliest(name(key)) : name(key)}
        </button>
      ))}
    </p>
  );
}
