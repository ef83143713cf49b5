import { lazy, Suspense, useEffect, useRef, useState, type ReactNode } from 'react';
import {
  duplicateLesson,
  LONGEST_FOLDER_NAME,
  putInFolder,
  removeLesson,
  renameLesson,
  saveKept,
  type LessonSummary,
} from '../../features/lesson-list/index.ts';
import type { Screen } from '../../features/navigation/index.ts';
import { words } from '../words/index.ts';
import styles from './Cover.module.css';
import type { LessonAct } from './LessonMenu.tsx';
import { LineForm } from './LineForm.tsx';
import { outcomeText } from './outcome-text.ts';

const LessonMenu = lazy(() => import('./LessonMenu.tsx'));

/** What a cover is told of the shelf it stands on. */
export interface Standing {
  readonly folders: readonly string[];
  /** The folder it is in; empty for none. */
  readonly folder: string;
  /** Puts it one place earlier or later; null where there is none. */
  readonly earlier: (() => Promise<void>) | null;
  readonly later: (() => Promise<void>) | null;
  /** Asks that its sign has the focus when it is there: with another title it may stand elsewhere. */
  readonly askFocus: () => void;
  /** Whether that was asked; true once. */
  readonly takeFocus: () => boolean;
}

const LONGEST_TITLE = 100;

/**
 * What can be done with a lesson as a whole: the sign that opens its menu, and a form in the place of its words while a line of
 * text is asked for.
 * @param tell says what came of it
 */
export function useLessonActs(
  lesson: LessonSummary,
  screens: readonly Screen[],
  standing: Standing,
  tell: (text: string) => void,
): { readonly menu: ReactNode; readonly form: ReactNode } {
  const [asked, setAsked] = useState<'rename' | 'folder' | null>(null);
  const [isOpen, setOpen] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const { askFocus, takeFocus } = standing;
  useEffect(() => {
    // the field that had the focus is gone
    if (asked === null && takeFocus()) button.current?.focus();
  }, [asked, takeFocus]);
  const title = lesson.title || words.lessons.untitled;
  const end = (): void => {
    askFocus();
    setAsked(null);
  };

  const acts: LessonAct[] = ['rename', 'folder', 'duplicate', 'save'];
  if (standing.earlier !== null) acts.push('earlier');
  if (standing.later !== null) acts.push('later');
  acts.push('remove');

  const act = async (what: LessonAct): Promise<void> => {
    switch (what) {
      case 'rename':
      case 'folder':
        return setAsked(what);
      case 'duplicate': {
        const made = await duplicateLesson(lesson.id, words.lessons.copyTitle);
        return tell(outcomeText(made?.outcome, words.lessons.duplicated(words.lessons.copyTitle(lesson.title))));
      }
      case 'save':
        return tell((await saveKept(lesson.id)) ? '' : words.lessons.notDone);
      case 'earlier':
        return await standing.earlier?.();
      case 'later':
        return await standing.later?.();
      case 'remove':
        return tell((await removeLesson(lesson.id)) ? '' : words.lessons.notDone);
      default:
        return what satisfies never;
    }
  };

  const menu = (
    <>
      <button
        ref={button}
        type="button"
        className={`plain ${styles.more}`}
        aria-label={words.lessons.moreOf(title)}
        aria-haspopup="menu"
        aria-expanded={isOpen}
        onClick={() => setOpen(true)}
      >
        <svg viewBox="0 0 20 6" aria-hidden="true">
          <circle cx="3" cy="3" r="1.9" />
          <circle cx="10" cy="3" r="1.9" />
          <circle cx="17" cy="3" r="1.9" />
        </svg>
      </button>
      {isOpen && (
        <Suspense fallback={null}>
          <LessonMenu
            of={button}
            id={lesson.id}
            title={title}
            screens={screens}
            acts={acts}
            act={(what) => void act(what)}
            end={() => setOpen(false)}
          />
        </Suspense>
      )}
    </>
  );
  const form =
    asked === 'rename' ? (
      <LineForm
        label={words.lessons.newTitle}
        value={lesson.title}
        longest={LONGEST_TITLE}
        keep={async (text) => {
          askFocus();
          const outcome = await renameLesson(lesson.id, text);
          tell(outcomeText(outcome, words.lessons.renamed(text.trim() || words.lessons.untitled)));
          setAsked(null);
        }}
        end={end}
      />
    ) : asked === 'folder' ? (
      <LineForm
        label={words.lessons.folderName}
        value={standing.folder}
        longest={LONGEST_FOLDER_NAME}
        suggestions={standing.folders}
        keep={async (text) => {
          askFocus();
          tell(outcomeText(await putInFolder(lesson.id, text), ''));
          setAsked(null);
        }}
        end={end}
      />
    ) : null;
  return { menu, form };
}
