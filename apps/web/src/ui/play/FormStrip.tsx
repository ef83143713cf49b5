import type { FormBar } from '../../features/playing/index.ts';
import { words } from '../words/index.ts';
import styles from './FormStrip.module.css';

/** The whole form as a quiet strip: a cell for each bar, as wide as it is long, and a mark on the one that sounds. */
export function FormStrip({ bars, bar }: { readonly bars: readonly FormBar[]; readonly bar: number }) {
  return (
    <ol className={styles.form} aria-label={words.play.form}>
      {bars.map(({ section, startsSection, durationTicks }, index) => (
        <li
          key={index}
          className={index === bar ? styles.now : startsSection && index > 0 ? styles.section : undefined}
          style={{ flexGrow: durationTicks }}
          aria-current={index === bar ? 'true' : undefined}
          aria-label={String(index + 1)}
        >
          {startsSection && section !== null ? <span className={styles.name}>{section}</span> : null}
        </li>
      ))}
    </ol>
  );
}
