import { useEffect, useState, type ReactNode } from 'react';
import { $keptTakes, countTakes, saveBackup, type SavedBackup } from '../../features/backup/index.ts';
import { $shelf } from '../../features/lesson-list/index.ts';
import { openFiles, takeFiles } from '../../features/outside-file/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { faultText } from './fault-text.ts';
import styles from './Lessons.module.css';
import { dayText } from './moment-text.ts';

function savedText(saved: SavedBackup): string {
  if (saved.kind === 'fault') return `${words.lessons.notDone} ${faultText(saved.fault)}`;
  return words.lessons.backedUp(saved.lessons, saved.takes, saved.files, saved.missing);
}

/** Under the shelf: how many there are, when they were last copied to a file, and the ways to do it and back. */
export function ShelfFoot({
  lessons,
  shown = lessons,
  demo,
  tell,
}: {
  readonly lessons: number;
  readonly shown?: number;
  /** The way to the demo lesson, where it is not here. */
  readonly demo: ReactNode;
  readonly tell: (text: string) => void;
}) {
  const { persistence, backedUpAt } = useStore($shelf);
  const takes = useStore($keptTakes);
  const [withTakes, setWithTakes] = useState(false);
  useEffect(() => void countTakes().catch(() => undefined), []);
  return (
    <section className={styles.foot} aria-label={words.lessons.backup}>
      {lessons > 0 && (
        <p role="status">
          {words.lessons.count(shown, lessons)}
          {persistence === 'refused' && ` ${words.lessons.notPersistent}`}
        </p>
      )}
      {demo}
      <div className={styles.copies}>
        {lessons > 0 && (
          <>
            <p>{backedUpAt === null ? words.lessons.neverBackedUp : words.lessons.lastBackup(dayText(backedUpAt))}</p>
            <button className="plain" onClick={async () => tell(savedText(await saveBackup(withTakes && takes > 0)))}>
              {words.lessons.backUp}
            </button>
            {takes > 0 && (
              <label title={words.lessons.backUpTakesHelp}>
                <input type="checkbox" checked={withTakes} onChange={() => setWithTakes(!withTakes)} />{' '}
                {words.lessons.backUpTakes(takes)}
              </label>
            )}
            {takes > 0 && withTakes && <p>{words.lessons.backUpTakesHelp}</p>}
          </>
        )}
        <button className="plain" onClick={async () => await takeFiles(await openFiles('.json'))}>
          {words.lessons.restore}
        </button>
      </div>
    </section>
  );
}
