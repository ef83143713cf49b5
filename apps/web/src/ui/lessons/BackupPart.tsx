import { saveBackup, type SavedBackup } from '../../features/backup/index.ts';
import { $shelf } from '../../features/lesson-list/index.ts';
import { openFiles, takeFiles } from '../../features/outside-file/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { faultText } from './fault-text.ts';
import styles from './Lessons.module.css';
import { momentText } from './moment-text.ts';

function savedText(saved: SavedBackup): string {
  if (saved.kind === 'fault') return `${words.lessons.notDone} ${faultText(saved.fault)}`;
  return words.lessons.backedUp(saved.lessons, saved.files, saved.missing);
}

/** Everything to one file, and back. */
export function BackupPart({ tell }: { readonly tell: (text: string) => void }) {
  const { persistence, backedUpAt } = useStore($shelf);
  return (
    <section className={styles.part}>
      <h2>{words.lessons.backup}</h2>
      <p className="soft">
        {words.lessons.backupHelp}{' '}
        {backedUpAt === null ? words.lessons.neverBackedUp : words.lessons.lastBackup(momentText(backedUpAt))}{' '}
        {persistence === 'refused' && words.lessons.notPersistent}
      </p>
      <div className={styles.making}>
        <button
          onClick={async () => {
            tell(savedText(await saveBackup()));
          }}
        >
          {words.lessons.backUp}
        </button>
        <button
          onClick={async () => {
            await takeFiles(await openFiles('.json'));
          }}
        >
          {words.lessons.restore}
        </button>
      </div>
    </section>
  );
}
