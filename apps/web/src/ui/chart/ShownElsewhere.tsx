import { $keyNow, $shownIn, showIn } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './OpenKey.module.css';

const w = words.chart;

/** Says that the other screens show the lesson in another key than the one it is written in, here. */
export function ShownElsewhere({ say }: { readonly say: (text: string) => void }) {
  const now = useStore($keyNow);
  const shownIn = useStore($shownIn);
  const name = useKeyText();
  if (now === null || shownIn === null) return null;
  const written = now.key;
  return (
    <p className={styles.open}>
      <span>{w.shown(name(written), name(shownIn))}</span>
      <button
        type="button"
        onClick={() => {
          showIn(written, written);
          say(w.said.shown(name(written)));
        }}
      >
        {w.asWrittenAgain}
      </button>
    </p>
  );
}
