import { messageOf, remedyOf } from '@fivespan/core';
import { useState } from 'react';
import { $lessons } from '../../features/lesson-list/index.ts';
import {
  $records,
  $takes,
  $takeShown,
  takeInFile,
  throwAway,
  type FileTaken,
  type TakeRecord,
} from '../../features/takes/index.ts';
import { momentText } from '../lessons/moment-text.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { RecordSwitch } from './RecordPanel.tsx';
import { OwnWords } from './OwnWords.tsx';
import { SaveButton } from './SaveButton.tsx';
import styles from './Takes.module.css';
import { TakesOverTime } from './TakesOverTime.tsx';
import { useTakeName } from './use-take-name.ts';

const w = words.takes;

/** What was recorded of a lesson, newest first; and what is left of lessons that are here no more. */
export function TakesPanel({ lessonId }: { readonly lessonId: string }) {
  const takes = useStore($takes);
  const records = useStore($records);
  const lessons = useStore($lessons);
  const [taken, setTaken] = useState<FileTaken | null>(null);
  const own = takes.filter((each) => each.lessonId === lessonId);
  const left =
    lessons === null
      ? []
      : takes.filter(
          (each) =>
            each.state === 'kept' && !lessons.some(({ id }) => id === each.lessonId) && each.lessonId !== lessonId,
        );
  return (
    <div className={styles.panel}>
      <h2>{w.takes}</h2>
      {!records && <RecordSwitch />}
      {own.length === 0 ? (
        <p className="soft">{w.none}</p>
      ) : (
        <ul className={styles.list} aria-label={w.takes}>
          {own.map((record) => (
            <Row key={record.id} record={record} />
          ))}
        </ul>
      )}
      <TakesOverTime takes={own} />
      {left.length > 0 && (
        <p className={styles.line}>
          {w.left(left.length)}{' '}
          <button onClick={() => left.forEach(({ id }) => void throwAway(id))}>{w.throwLeft}</button>
        </p>
      )}
      <p className={styles.line}>
        <button onClick={() => void takeInFile().then(setTaken)}>{w.takeIn}</button>
        <span role="status">
          {taken !== null &&
            (taken.kind === 'refused'
              ? taken.issues.map((issue) => `${messageOf(issue)}. ${remedyOf(issue)}.`).join(' ')
              : w.fileTaken[taken.kind])}
        </span>
      </p>
      <p className="soft">{w.takeInAbout}</p>
      <p className="soft">{w.where}</p>
      <OwnWords />
    </div>
  );
}

function Row({ record }: { readonly record: TakeRecord }) {
  const name = useTakeName()(record);
  return (
    <li data-kept-take={record.id}>
      <button className={styles.name} onClick={() => $takeShown.set(record)}>
        {name}
      </button>
      <span className="soft">
        {momentText(record.at)}
        {record.state !== 'kept' && ` · ${w.notKept}`}
      </span>
      <span className={styles.tools}>
        <SaveButton record={record} label={w.saveOf(name)} />
        <button aria-label={w.throwAwayOf(name)} onClick={() => void throwAway(record.id)}>
          {w.throwAway}
        </button>
      </span>
    </li>
  );
}
