import type { DragEventHandler } from 'react';
import type { LessonSummary } from '../../features/lesson-list/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import styles from './Cover.module.css';
import { CoverPicture, useCover } from './CoverPicture.tsx';
import { FirstBars } from './FirstBars.tsx';
import { dayText } from './moment-text.ts';
import { useAboutText } from './about-text.ts';
import { useLessonActs, type Standing } from './use-lesson-acts.tsx';

interface CoverProps {
  readonly lesson: LessonSummary;
  readonly standing: Standing;
  readonly tell: (text: string) => void;
  /** Where what is dragged would come to stand beside it. */
  readonly dropSide: 'before' | 'after' | undefined;
  readonly drag: Readonly<Record<'onDragStart' | 'onDragOver' | 'onDragEnd' | 'onDrop', DragEventHandler>>;
}

/** One lesson on the shelf: what it is, and what can be done with it as a whole. */
export function Cover({ lesson, standing, tell, dropSide, drag }: CoverProps) {
  const aboutText = useAboutText();
  const own = useCover(lesson.document);
  const { menu, form } = useLessonActs(lesson, ['play', 'study', 'chart', 'pages'], standing, tell);
  return (
    <li className={styles.cover} data-drop={dropSide} draggable={form === null} {...drag}>
      <div className={styles.face}>
        {form ?? (
          <>
            <div className={styles.top}>
              <a
                className={styles.title}
                href={hrefOf({ kind: 'lesson', id: lesson.id, screen: 'study' })}
                draggable={false}
                data-title
              >
                {lesson.title || words.lessons.untitled}
              </a>
              {menu}
            </div>
            <p className={styles.about}>{aboutText(lesson)}</p>
          </>
        )}
        <CoverPicture of={own} size="cover" />
        <FirstBars bars={own.cover?.bars ?? lesson.firstBars} step="small" />
        <p className={styles.when}>{words.lessons.changed(dayText(lesson.changedAt))}</p>
      </div>
    </li>
  );
}
