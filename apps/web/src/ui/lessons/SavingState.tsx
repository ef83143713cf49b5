import { useEffect, useState } from 'react';
import { $open, saveAgain, saveLessonFile } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { StatePicture } from '../shell/StatePicture.tsx';
import { faultText } from './fault-text.ts';
import styles from './SavingState.module.css';

/** Most writes are done before an eye could read that they are being done: until then what is shown stays, and no frame is drawn. */
const TOLD_AFTER_MS = 250;

/** Whether something has gone on for longer than an eye takes to read it. */
function useIsLong(isGoingOn: boolean): boolean {
  const [isLong, setIsLong] = useState(false);
  useEffect(() => {
    if (!isGoingOn) return undefined;
    const timer = setTimeout(() => setIsLong(true), TOLD_AFTER_MS);
    return () => {
      clearTimeout(timer);
      setIsLong(false);
    };
  }, [isGoingOn]);
  return isGoingOn && isLong;
}

/** Why the open lesson's last change cannot be kept, and a way to save it as a file. */
export function SavingFault() {
  const saving = useStore($open)?.saving;
  if (typeof saving !== 'object') return null;
  return (
    <div className={styles.fault} role="alert" data-saving="fault">
      <StatePicture state="not kept" />
      <span className={styles.why}>
        <strong>{words.lessons.notKept}.</strong> {faultText(saving)}
      </span>
      <span className={styles.buttons}>
        <button onClick={() => saveLessonFile()}>{words.lessons.saveLesson}</button>
        {saving.kind !== 'refused' && saving.kind !== 'newer' && (
          <button onClick={saveAgain}>{words.lessons.again}</button>
        )}
      </span>
    </div>
  );
}

/** Whether the open lesson's last change is on the disk, in a word. */
export function SavingState() {
  const open = useStore($open);
  const isLong = useIsLong(open?.saving === 'saving');
  // what is wrong is told at length (SavingFault)
  if (open === null || typeof open.saving === 'object') return null;
  const { saving, conflict } = open;
  // LessonTold explains at length what to do about a conflict
  const state = conflict !== null ? 'conflict' : saving;
  return (
    <span className={state === 'conflict' ? styles.conflict : styles.kept} data-saving={state}>
      {state === 'conflict' ? (
        words.lessons.notKept
      ) : isLong ? (
        words.lessons.keeping
      ) : (
        <>
          {words.lessons.kept} <span className={styles.where}>{words.lessons.keptHere}</span>
        </>
      )}
    </span>
  );
}
