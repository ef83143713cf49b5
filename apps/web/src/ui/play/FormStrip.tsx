import type { FormBar } from '../../features/playing/index.ts';
import { words } from '../words/index.ts';
import { barName } from './bar-name.ts';
import styles from './FormStrip.module.css';

/** The whole form as a quiet strip: a cell for each bar, as wide as it is long, and a mark on the one that sounds. */
export function FormStrip({ bars, bar }: { readonly bars: readonly FormBar[]; readonly bar: number }) {
  return (
    <ol className={styles.form} aria-label={words.play.form}>
      {bars.map((each, index) => (
        <li
          key={index}
          className={index === bar ? styles.now : each.startsSection && index > 0 ? styles.section : undefined}
          style={{ flexGrow: each.durationTicks }}
          aria-current={index === bar ? 'step' : undefined}
        >
          <span className="unseen">
            {each.startsSection && each.section !== null && `${words.play.section(each.section)}, `}
            {words.play.startBar} {barName(each)}
          </span>
          {each.startsSection && each.section !== null && (
            <span className={styles.name} aria-hidden="true">
              {each.section}
            </span>
          )}
        </li>
      ))}
    </ol>
  );
}
