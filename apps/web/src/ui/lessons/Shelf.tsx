import { useState, type DragEvent } from 'react';
import { moveLesson, type LessonSummary } from '../../features/lesson-list/index.ts';
import { words } from '../words/index.ts';
import { Cover } from './Cover.tsx';
import styles from './Cover.module.css';
import type { Standing } from './use-lesson-acts.tsx';

/** What a dragged cover is over, and on which side of it it would come to stand. */
interface Dropping {
  readonly id: string;
  readonly side: 'before' | 'after';
}

/** Covers side by side. They can be put in another order: dragged, or from their menus. */
export function Shelf({
  lessons,
  standingOf,
  tell,
}: {
  /** In the order in which they stand. */
  readonly lessons: readonly LessonSummary[];
  readonly standingOf: (lesson: LessonSummary) => Standing;
  readonly tell: (text: string) => void;
}) {
  const [dragged, setDragged] = useState<string | null>(null);
  const [dropping, setDropping] = useState<Dropping | null>(null);
  const ids = lessons.map(({ id }) => id);
  const end = (): void => {
    setDragged(null);
    setDropping(null);
  };
  const over = (event: DragEvent, id: string): void => {
    if (dragged === null || dragged === id) return;
    event.preventDefault();
    const { left, width } = event.currentTarget.getBoundingClientRect();
    const side = event.clientX < left + width / 2 ? 'before' : 'after';
    if (dropping?.id !== id || dropping.side !== side) setDropping({ id, side });
  };
  const drop = (event: DragEvent): void => {
    if (dragged === null || dropping === null) return;
    event.preventDefault();
    const rest = ids.filter((each) => each !== dragged);
    const place = rest.indexOf(dropping.id) + (dropping.side === 'after' ? 1 : 0);
    void moveLesson(ids, dragged, rest[place] ?? null);
    end();
  };
  return (
    <ul className={styles.shelf} aria-label={words.lessons.shelf}>
      {lessons.map((lesson) => (
        <Cover
          key={lesson.id}
          lesson={lesson}
          standing={standingOf(lesson)}
          tell={tell}
          dropSide={dropping?.id === lesson.id ? dropping.side : undefined}
          drag={{
            onDragStart: (event) => {
              event.dataTransfer.effectAllowed = 'move';
              event.dataTransfer.setData('text/plain', lesson.title);
              setDragged(lesson.id);
            },
            onDragOver: (event) => over(event, lesson.id),
            onDragEnd: end,
            onDrop: drop,
          }}
        />
      ))}
    </ul>
  );
}

/** Where covers will stand, while the shelf is being read. */
export function ShelfComing() {
  return (
    <div role="status">
      <span className="unseen">{words.lessons.reading}</span>
      <div className={styles.shelf} data-coming aria-hidden="true">
        <span className={styles.cover} />
        <span className={styles.cover} />
        <span className={styles.cover} />
      </div>
    </div>
  );
}
