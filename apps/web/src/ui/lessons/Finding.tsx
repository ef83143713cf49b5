import { orderShelf } from '../../features/lesson-list/index.ts';
import { words } from '../words/index.ts';
import styles from './Lessons.module.css';

type Order = keyof typeof words.lessons.sortBy;

interface FindingProps {
  readonly folders: readonly string[];
  /** The one that is shown; empty for all. */
  readonly folder: string;
  readonly setFolder: (name: string) => void;
  readonly order: Order;
  /** Null where there is too little to look through. */
  readonly find: { readonly text: string; readonly set: (text: string) => void } | null;
}

/** Folders, the order, and a field to find one in. */
export function Finding({ folders, folder, setFolder, order, find }: FindingProps) {
  return (
    <div className={styles.finding}>
      {folders.length > 0 && (
        <div className={styles.folders} role="group" aria-label={words.lessons.folders}>
          {['', ...folders].map((each) => (
            <button
              key={each}
              className="plain"
              aria-current={each === folder || undefined}
              onClick={() => setFolder(each)}
            >
              {each || words.lessons.allFolders}
            </button>
          ))}
        </div>
      )}
      {find !== null && (
        <label>
          {words.lessons.find}
          <input type="search" value={find.text} onChange={(event) => find.set(event.target.value)} />
        </label>
      )}
      <label className={styles.order}>
        {words.lessons.sort}
        <select value={order} onChange={(event) => void orderShelf(event.target.value as Order)}>
          {Object.entries(words.lessons.sortBy).map(([each, text]) => (
            <option key={each} value={each}>
              {text}
            </option>
          ))}
        </select>
      </label>
    </div>
  );
}
