import { lazy, Suspense, useEffect, useState } from 'react';
import { openStored } from '../../features/lesson-list/index.ts';
import { $address, hrefOf, SCREENS, type Screen } from '../../features/navigation/index.ts';
import { $open, closeLesson, type OpenLesson } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './App.module.css';
import { metaOf } from './lesson-meta.ts';

const LessonsScreen = lazy(() => import('../lessons/LessonsScreen.tsx'));
const SCREEN_OF = {
  chart: lazy(() => import('../chart/ChartScreen.tsx')),
  study: lazy(() => import('../study/StudyScreen.tsx')),
  play: lazy(() => import('../play/PlayScreen.tsx')),
  pages: lazy(() => import('../pages/PagesScreen.tsx')),
} satisfies Record<Screen, unknown>;

/** The frame round every screen, and which one is in it. */
export function App() {
  const address = useStore($address);
  if (address.kind === 'lessons') {
    return (
      <Frame>
        <Suspense fallback={<Opening />}>
          <LessonsScreen />
        </Suspense>
      </Frame>
    );
  }
  return <LessonFrame key={address.id} id={address.id} screen={address.screen} />;
}

function Opening() {
  return <p role="status">{words.shell.opening}</p>;
}

function LessonFrame({ id, screen }: { readonly id: string; readonly screen: Screen }) {
  const open = useStore($open);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    void openStored(id).then((read) => {
      if (read === undefined) setFault(words.shell.notFound);
    });
    return closeLesson;
  }, [id]);
  const Shown = SCREEN_OF[screen];
  return (
    <Frame open={open} screen={screen}>
      {fault !== null ? (
        <p role="alert">
          {fault} <a href={hrefOf({ kind: 'lessons' })}>{words.shell.toLessons}</a>
        </p>
      ) : open?.id === id ? (
        <Suspense fallback={<Opening />}>
          <Shown />
        </Suspense>
      ) : (
        <Opening />
      )}
    </Frame>
  );
}

function Frame({
  children,
  open = null,
  screen,
}: {
  readonly children: React.ReactNode;
  readonly open?: OpenLesson | null;
  readonly screen?: Screen;
}) {
  return (
    <div className={styles.frame} data-screen={screen ?? 'lessons'}>
      <a
        className={styles.skip}
        href="#content"
        onClick={(event) => {
          // the address behind # is ours: move the focus, not the address
          event.preventDefault();
          (event.currentTarget.ownerDocument.querySelector('main') as HTMLElement).focus();
        }}
      >
        {words.shell.skipToContent}
      </a>
      <header className={styles.header}>
        <a className={styles.home} href={hrefOf({ kind: 'lessons' })}>
          {words.shell.lessons}
        </a>
        {open !== null && screen !== undefined && (
          <>
            <p className={styles.title}>{open.chart?.title || words.shell.untitled}</p>
            <p className={styles.meta}>{metaOf(open)}</p>
            <nav className={styles.screens} aria-label={words.shell.screensOfLesson}>
              {SCREENS.map((each) => (
                <a
                  key={each}
                  href={hrefOf({ kind: 'lesson', id: open.id, screen: each })}
                  aria-current={each === screen ? 'page' : undefined}
                >
                  {words.shell.screens[each]}
                </a>
              ))}
            </nav>
          </>
        )}
      </header>
      <main className={styles.main} tabIndex={-1}>
        {children}
      </main>
    </div>
  );
}
