import { lazy, Suspense, useEffect, useRef, type ReactNode } from 'react';
import {
  $dialog,
  $immersed,
  hasArrived,
  onKeyPress,
  openDialog,
  type Screen,
} from '../../features/navigation/index.ts';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { $tourStep } from '../../features/tour/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Frame.module.css';
import { Header } from './Header.tsx';

const Dialogs = lazy(() => import('./Dialogs.tsx'));
const Tour = lazy(() => import('./Tour.tsx'));

interface FrameProps {
  readonly children: ReactNode;
  readonly open?: OpenLesson | null;
  readonly screen?: Screen;
}

/** What is round every screen: the way to the others above it, dialogs over it. While the hands play there is no frame. */
export function Frame({ children, open = null, screen }: FrameProps) {
  const main = useRef<HTMLElement>(null);
  const shown = useRef<Screen | undefined | null>(null);
  const wasImmersed = useRef(false);
  const isImmersed = useStore($immersed);
  const dialog = useStore($dialog);
  const tourStep = useStore($tourStep);
  const place = screen === undefined ? words.shell.lessons : words.shell.screens[screen];
  const lesson = open === null ? null : open.chart?.title || words.shell.untitled;

  useEffect(() => {
    // another screen, or another lesson, which has a frame of its own: a screen reader hears what it is, and Tab goes on from its top
    if (shown.current !== screen && !hasArrived()) main.current?.focus({ preventScroll: true });
    shown.current = screen;
  }, [screen]);

  useEffect(() => {
    // what had the focus while the hands played is gone with the play view
    const page = main.current?.ownerDocument;
    if (wasImmersed.current && !isImmersed && page?.activeElement === page?.body) {
      main.current?.focus({ preventScroll: true });
    }
    wasImmersed.current = isImmersed;
  }, [isImmersed]);

  useEffect(
    () =>
      onKeyPress(({ key, isCommand }) => {
        // no letter or sign: those belong to what is written, and to those who speak to their machine (WCAG 2.2, 2.1.4)
        if (key !== 'F1' || isCommand) return false;
        openDialog({ kind: 'help' });
        return true;
      }),
    [],
  );

  return (
    <div className={styles.frame} data-screen={screen ?? 'lessons'} data-immersed={isImmersed || undefined}>
      <title>{`${words.shell.pageTitle(place, lesson)} · ${words.shell.product}`}</title>
      {!isImmersed && (
        <>
          <a
            className={styles.skip}
            href="#content"
            onClick={(event) => {
              // the address behind # is ours: move the focus, not the address
              event.preventDefault();
              main.current?.focus();
            }}
          >
            {words.shell.skipToContent}
          </a>
          <Header open={open} screen={screen} />
        </>
      )}
      <main ref={main} className={styles.main} tabIndex={-1} aria-label={place}>
        {children}
      </main>
      <Suspense fallback={null}>
        {dialog !== null && <Dialogs dialog={dialog} screen={screen} />}
        {tourStep !== null && dialog === null && !isImmersed && <Tour step={tourStep} />}
      </Suspense>
    </div>
  );
}
