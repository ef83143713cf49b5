import { lazy, memo, Suspense } from 'react';
import { hrefOf, SCREENS, type Screen } from '../../features/navigation/index.ts';
// the atom alone: the service worker's side comes later
import { $newVersion } from '../../features/offline/new-version.ts';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { SavingFault, SavingState } from '../lessons/SavingState.tsx';
import { useStore } from '../use-store.ts';
import { useNoteText } from '../words/note-names.ts';
import { words } from '../words/index.ts';
import styles from './Header.module.css';
import { HeaderTools } from './HeaderTools.tsx';
import { metaOf } from './lesson-meta.ts';

const NewVersion = lazy(() => import('./NewVersion.tsx'));

interface HeaderProps {
  readonly open: OpenLesson | null;
  readonly screen: Screen | undefined;
}

/** What the heading says is the same although something else of the lesson changed: whether it has reached the disk. */
function saysTheSame(a: HeaderProps, b: HeaderProps): boolean {
  const { open: before } = a;
  const { open: now } = b;
  const isSame = before?.id === now?.id && before?.chart === now?.chart && before?.choices === now?.choices;
  return isSame && a.screen === b.screen;
}

/**
 * Which lesson this is, its screens, and what belongs to all lessons, in one row. Where it is narrow the lesson's name stands
 * under the row, at the top of the page.
 */
export const Header = memo(function Header({ open, screen }: HeaderProps) {
  const noteText = useNoteText();
  const isNewVersionHere = useStore($newVersion) !== 'none';
  const isLesson = screen !== undefined;
  return (
    <header className={styles.header} data-lesson={isLesson || undefined} data-screen={screen}>
      <div className={styles.row}>
        {isLesson ? (
          <nav className={styles.all} aria-label={words.shell.product}>
            <a href={hrefOf({ kind: 'lessons' })} data-tour="lessons">
              <Back />
              <span>{words.shell.lessons}</span>
            </a>
          </nav>
        ) : (
          <p className={styles.title}>{words.shell.product}</p>
        )}
        <div className={styles.lesson} data-tour={isLesson ? 'lesson' : undefined}>
          {isLesson && open !== null && (
            <>
              <p className={styles.title}>{open.chart?.title || words.shell.untitled}</p>
              <p className={styles.meta}>{metaOf(open, noteText)}</p>
              <SavingState />
            </>
          )}
        </div>
        {isLesson && open !== null && (
          <nav className={styles.screens} aria-label={words.shell.screensOfLesson}>
            {SCREENS.map((each) => (
              <a
                key={each}
                href={hrefOf({ kind: 'lesson', id: open.id, screen: each })}
                aria-current={each === screen ? 'page' : undefined}
                data-tour={each}
                // the bold word's room is kept, so that nothing moves
                data-word={words.shell.screens[each]}
              >
                {words.shell.screens[each]}
              </a>
            ))}
          </nav>
        )}
        <HeaderTools />
      </div>
      {isLesson && open !== null && <SavingFault />}
      <div role="status" className={styles.told}>
        {isNewVersionHere && (
          <Suspense fallback={null}>
            <NewVersion />
          </Suspense>
        )}
      </div>
    </header>
  );
}, saysTheSame);

function Back() {
  return (
    <svg viewBox="0 0 20 20" width="16" height="16" aria-hidden="true">
      <path d="M12.5 3.5L6 10l6.5 6.5" fill="none" stroke="currentColor" strokeWidth="1.75" />
    </svg>
  );
}
