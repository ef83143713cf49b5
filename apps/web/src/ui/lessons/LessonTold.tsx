import { $notOpened } from '../../features/lesson-list/index.ts';
import { $address, goInstead, hrefOf } from '../../features/navigation/index.ts';
import {
  $notMade,
  $open,
  goOnWithEngine,
  keepBoth,
  makeAgain,
  putBackHere,
  takeOther,
} from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { damageText } from './damage-text.ts';
import { DropPlace } from './DropPlace.tsx';
import { faultText } from './fault-text.ts';
import { StateNote } from '../shell/StatePicture.tsx';
import styles from './LessonTold.module.css';

/** Goes on as a lesson of its own, on the screen one is on. */
async function goOnAsNew(): Promise<void> {
  const address = $address.get();
  const id = await keepBoth(words.lessons.secondTitle);
  if (id !== undefined && address.kind === 'lesson') goInstead({ ...address, id });
}

function ToLessons() {
  return <a href={hrefOf({ kind: 'lessons' })}>{words.lessons.toLessons}</a>;
}

/** What is to be told of the open lesson before one goes on: another tab changed it, another engine made it, it cannot be opened. */
export function LessonTold() {
  const open = useStore($open);
  const notOpened = useStore($notOpened);
  const notMade = useStore($notMade);
  if (open === null) {
    if (notOpened === null) return null;
    return (
      <StateNote state={notOpened.kind === 'newer' ? 'closed' : 'stopped'} role="alert">
        <p>
          {notOpened.kind === 'damaged'
            ? words.lessons.notOpened.damaged(damageText(notOpened.damage))
            : notOpened.kind === 'newer'
              ? words.lessons.notOpened.newer
              : notOpened.kind === 'failed'
                ? words.lessons.notOpened.failed(notOpened.message)
                : faultText(notOpened.fault)}
        </p>
        <ToLessons />
      </StateNote>
    );
  }
  return (
    <>
      <DropPlace />
      {open.conflict === 'changed' && (
        <div className={styles.told}>
          <StateNote state="two" role="alert">
            <p>{words.lessons.conflictChanged}</p>
            <div className={styles.buttons}>
              <button className="main" onClick={() => void goOnAsNew()}>
                {words.lessons.keepBoth}
              </button>
              <button onClick={takeOther}>{words.lessons.takeOther}</button>
              <span className="soft">{words.lessons.takeOtherHelp}</span>
            </div>
          </StateNote>
        </div>
      )}
      {open.conflict === 'removed' && (
        <div className={styles.told}>
          <StateNote state="not kept" role="alert">
            <p>{words.lessons.conflictRemoved}</p>
            <div className={styles.buttons}>
              <button className="main" onClick={() => void putBackHere()}>
                {words.lessons.putBackHere}
              </button>
              <ToLessons />
            </div>
          </StateNote>
        </div>
      )}
      {notMade !== null && (
        <div className={styles.told}>
          <StateNote state="stopped" role="alert">
            <p>{words.lessons.notMade}</p>
            <div className={styles.buttons}>
              <button className="main" onClick={makeAgain}>
                {words.lessons.again}
              </button>
              <span className="soft">{words.lessons.notMadeWhy(notMade.message)}</span>
            </div>
          </StateNote>
        </div>
      )}
      {open.isHeld && (
        <div className={styles.told}>
          <StateNote state="two" role="alert">
            <p>{words.lessons.held}</p>
            <div className={styles.buttons}>
              <button className="main" onClick={goOnWithEngine}>
                {words.lessons.goOn}
              </button>
            </div>
          </StateNote>
        </div>
      )}
    </>
  );
}
