import type { LessonSummary } from '../../features/lesson-list/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import { useAboutText } from './about-text.ts';
import { CoverPicture, useCover } from './CoverPicture.tsx';
import { FirstBars } from './FirstBars.tsx';
import styles from './GoOn.module.css';
import { dayText } from './moment-text.ts';
import { useLessonActs, type Standing } from './use-lesson-acts.tsx';

/** The lesson one goes on with, open on the desk: one press and it plays. */
export function GoOn({
  lesson,
  standing,
  isOnShelf,
  tell,
}: {
  readonly lesson: LessonSummary;
  readonly standing: Standing;
  /** Its cover stands on the shelf as well, with its link and its menu. */
  readonly isOnShelf: boolean;
  readonly tell: (text: string) => void;
}) {
  const aboutText = useAboutText();
  const own = useCover(lesson.document);
  const { menu, form } = useLessonActs(lesson, ['study', 'chart', 'pages'], standing, tell);
  const title = lesson.title || words.lessons.untitled;
  const href = hrefOf({ kind: 'lesson', id: lesson.id, screen: 'study' });
  return (
    <section className={styles.goOn} aria-label={words.lessons.goOnWith(title)}>
      <div className={styles.words}>
        <p className={styles.label}>{words.lessons.goOnLabel}</p>
        {form ?? (
          <h2 className={styles.title} data-long={title.length > 36 || undefined}>
            {isOnShelf ? (
              title
            ) : (
              <a href={href} data-title>
                {title}
              </a>
            )}
          </h2>
        )}
        <p className={styles.about}>{aboutText(lesson)}</p>
        <FirstBars bars={own.cover?.bars ?? lesson.firstBars} step="text" />
        <p className={styles.when}>{words.lessons.changed(dayText(lesson.changedAt))}</p>
        <p className={styles.ways}>
          <a className={styles.practise} href={hrefOf({ kind: 'lesson', id: lesson.id, screen: 'play' })}>
            <svg viewBox="0 0 12 14" aria-hidden="true">
              <path d="M0 0v14l12-7z" />
            </svg>
            {words.lessons.screens.play}
          </a>
          {!isOnShelf && menu}
        </p>
      </div>
      <CoverPicture of={own} size="large" />
    </section>
  );
}
