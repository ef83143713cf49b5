import { $lessons } from '../../features/lesson-list/index.ts';
import { $takes, $takeShown, throwAway, type TakeRecord } from '../../features/takes/index.ts';
import { momentText } from '../lessons/moment-text.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Takes.module.css';
import { useTakeName } from './use-take-name.ts';

const w = words.takes;

/** What was recorded of a lesson, newest first; and what is left of lessons that are here no more. */
export function TakesPanel({ lessonId }: { readonly lessonId: string }) {
  const takes = useStore($takes);
  const lessons = useStore($lessons);
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
      {own.length === 0 ? (
        <p className="soft">{w.none}</p>
      ) : (
        <ul className={styles.list} aria-label={w.takes}>
          {own.map((record) => (
            <Row key={record.id} record={record} />
          ))}
        </ul>
      )}
      {left.length > 0 && (
        <p className={styles.line}>
          {w.left(left.length)}{' '}
          <button onClick={() => left.forEach(({ id }) => void throwAway(id))}>{w.throwLeft}</button>
        </p>
      )}
      <p className="soft">{w.where}</p>
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
        <button aria-label={w.throwAwayOf(name)} onClick={() => void throwAway(record.id)}>
          {w.throwAway}
        </button>
      </span>
    </li>
  );
}
