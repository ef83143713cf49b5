import { useId, useState } from 'react';
import { $bareWindow, BARE_GROUNDS, closeBare, showBare } from '../../features/bare-window/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Panels.module.css';

const w = words.play.bare;

/** Opens the picture in a window of its own, on the ground that is asked for. */
export function BarePanel() {
  const id = useId();
  const shown = useStore($bareWindow);
  const [isRefused, setRefused] = useState(false);
  return (
    <section aria-labelledby={`${id}-bare`} className={styles.panel}>
      <h2 id={`${id}-bare`}>{w.title}</h2>
      <p className="soft">{w.about}</p>
      <p>
        {BARE_GROUNDS.map((ground) => (
          <button
            key={ground}
            aria-pressed={shown?.ground === ground}
            onClick={() => setRefused(!showBare(ground, w.title))}
          >
            {w.grounds[ground]}
          </button>
        ))}
        {shown !== null && <button onClick={closeBare}>{w.close}</button>}
      </p>
      {isRefused && <p role="alert">{w.refused}</p>}
    </section>
  );
}
