import { $hurts } from '../../features/today/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Today.module.css';

const w = words.today;

/** Something hurts: what to do about it. Not a lower tempo. */
export function Hurts() {
  if (!useStore($hurts)) return null;
  return (
    <div role="alert" className={styles.hurts}>
      <p>
        <strong>{w.hurtTitle}</strong>
      </p>
      {w.hurtText.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p>
        <button onClick={() => $hurts.set(false)}>{w.hurtDone}</button>
      </p>
    </div>
  );
}
