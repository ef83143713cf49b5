import { useEffect, useRef, useState } from 'react';
import { duplicateLesson, removeLesson, renameLesson, type LessonSummary } from '../../features/lesson-list/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './Lessons.module.css';
import { momentText } from './moment-text.ts';
import { outcomeText } from './outcome-text.ts';

/** One lesson: what it is, and what can be done with it as a whole. */
export function LessonRow({ lesson, tell }: { readonly lesson: LessonSummary; readonly tell: (text: string) => void }) {
  const [isRenaming, setRenaming] = useState(false);
  const keyText = useKeyText();
  const rename = useRef<HTMLButtonElement>(null);
  const title = lesson.title || words.lessons.untitled;
  const wasRenaming = useRef(false);
  useEffect(() => {
    // the field that had the focus is gone
    if (wasRenaming.current && !isRenaming) rename.current?.focus();
    wasRenaming.current = isRenaming;
  }, [isRenaming]);
  const end = (): void => setRenaming(false);
  const bars = (
    <span className={styles.bars} aria-hidden="true">
      {lesson.firstBars.map((bar, index) => (
        // bars have no name but their place
        // oxlint-disable-next-line react/no-array-index-key
        <span key={index}>{bar}</span>
      ))}
    </span>
  );
  if (isRenaming) {
    return (
      <li className={styles.row}>
        <RenameForm lesson={lesson} tell={tell} end={end} />
        {bars}
      </li>
    );
  }
  return (
    <li className={styles.row}>
      <a className={styles.name} href={hrefOf({ kind: 'lesson', id: lesson.id, screen: 'study' })}>
        {title}
      </a>
      {bars}
      <span className={styles.about}>
        {[
          lesson.key === null ? '' : keyText(lesson.key),
          lesson.tempoBpm === null ? '' : words.lessons.tempo(lesson.tempoBpm),
        ]
          .filter((part) => part !== '')
          .join(' · ')}
      </span>
      <span className={styles.when}>{words.lessons.changed(momentText(lesson.changedAt))}</span>
      <span className={styles.acts}>
        <button
          ref={rename}
          className="plain"
          aria-label={words.lessons.renameOf(title)}
          onClick={() => setRenaming(true)}
        >
          {words.lessons.rename}
        </button>
        <button
          className="plain"
          aria-label={words.lessons.duplicateOf(title)}
          onClick={async () => {
            const made = await duplicateLesson(lesson.id, words.lessons.copyTitle);
            tell(outcomeText(made?.outcome, words.lessons.duplicated(words.lessons.copyTitle(lesson.title))));
          }}
        >
          {words.lessons.duplicate}
        </button>
        <button
          className="plain"
          aria-label={words.lessons.removeOf(title)}
          onClick={async () => {
            tell((await removeLesson(lesson.id)) ? '' : words.lessons.notDone);
          }}
        >
          {words.lessons.remove}
        </button>
      </span>
    </li>
  );
}

function RenameForm({
  lesson,
  tell,
  end,
}: {
  readonly lesson: LessonSummary;
  readonly tell: (text: string) => void;
  readonly end: () => void;
}) {
  const [title, setTitle] = useState(lesson.title);
  return (
    <form
      className={styles.rename}
      onSubmit={async (event) => {
        event.preventDefault();
        const outcome = await renameLesson(lesson.id, title);
        tell(outcomeText(outcome, words.lessons.renamed(title.trim() || words.lessons.untitled)));
        end();
      }}
    >
      <label>
        <span className="unseen">{words.lessons.newTitle}</span>
        <input
          value={title}
          maxLength={100}
          // the teacher has just asked for this field
          // oxlint-disable-next-line jsx-a11y/no-autofocus
          autoFocus
          onFocus={(event) => event.target.select()}
          onChange={(event) => setTitle(event.target.value)}
          onKeyDown={(event) => {
            if (event.key === 'Escape') end();
          }}
        />
      </label>
      <button className="main" type="submit">
        {words.lessons.keepTitle}
      </button>
      <button type="button" onClick={end}>
        {words.lessons.cancel}
      </button>
    </form>
  );
}
