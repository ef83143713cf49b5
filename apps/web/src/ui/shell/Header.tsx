import { lazy, memo, Suspense } from 'react';
import { hrefOf, openDialog, SCREENS, type Screen } from '../../features/navigation/index.ts';
// the atom alone: the service worker's side comes later
import { $newVersion } from '../../features/offline/new-version.ts';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { SavingState } from '../lessons/SavingState.tsx';
import { useStore } from '../use-store.ts';
import { useNoteText } from '../words/note-names.ts';
import { words } from '../words/index.ts';
import styles from './Header.module.css';
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

/** Which lesson this is, its screens, and what belongs to all lessons. */
export const Header = memo(function Header({ open, screen }: HeaderProps) {
  const noteText = useNoteText();
  const isNewVersionHere = useStore($newVersion) !== 'none';
  const isLesson = screen !== undefined;
  return (
    <header className={styles.header} data-lesson={isLesson || undefined}>
      <div className={styles.row}>
        {isLesson ? (
          <nav className={styles.all} aria-label={words.shell.product}>
            <a href={hrefOf({ kind: 'lessons' })} data-tour="lessons">
              {words.shell.lessons}
            </a>
          </nav>
        ) : (
          <p className={styles.title}>{words.shell.product}</p>
        )}
        {isLesson && (
          <div className={styles.lesson} data-tour="lesson">
            {open !== null && (
              <>
                <p className={styles.title}>{open.chart?.title || words.shell.untitled}</p>
                <p className={styles.meta}>{metaOf(open, noteText)}</p>
                <SavingState />
              </>
            )}
          </div>
        )}
        <div className={styles.right}>
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
          <div className={styles.tools}>
            <button type="button" className="plain" data-tour="help" onClick={() => openDialog({ kind: 'help' })}>
              {words.shell.help}
            </button>
            <button type="button" className="plain" onClick={() => openDialog({ kind: 'settings' })}>
              {words.shell.settings}
            </button>
          </div>
        </div>
      </div>
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
