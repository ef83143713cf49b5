import { $open, saveAgain, saveLessonFile } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { faultText } from './fault-text.ts';
import styles from './SavingState.module.css';

/** Whether the open lesson's last change is on the disk; where it cannot be, why, and a way to save it as a file. */
export function SavingState() {
  const open = useStore($open);
  if (open === null) return null;
  const { saving, conflict } = open;
  if (typeof saving === 'object') {
    return (
      <span className={styles.fault} role="alert" data-saving="fault">
        <span>
          <strong>{words.lessons.notKept}.</strong> {faultText(saving)}
        </span>
        <span className={styles.buttons}>
          <button onClick={() => saveLessonFile()}>{words.lessons.saveLesson}</button>
          {saving.kind !== 'refused' && saving.kind !== 'newer' && (
            <button onClick={saveAgain}>{words.lessons.again}</button>
          )}
        </span>
      </span>
    );
  }
  // what to do about a conflict is told at length (LessonTold)
  const state = conflict !== null ? 'conflict' : saving;
  return (
    <span className={styles[state]} data-saving={state}>
      {state === 'saved' ? words.lessons.kept : state === 'saving' ? words.lessons.keeping : words.lessons.notKept}
    </span>
  );
}
