import { lazy, Suspense, useEffect, useState } from 'react';
import { $notOpened, dropUntouched, openStored } from '../../features/lesson-list/index.ts';
import { $address, firstScreen, hrefOf, screenIsThere, type Screen } from '../../features/navigation/index.ts';
import { $open, closeLesson } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { Fault } from './Fault.tsx';
import { Frame } from './Frame.tsx';
import { StateNote } from './StatePicture.tsx';

const LessonsScreen = lazy(() => import('../lessons/LessonsScreen.tsx'));
// conflicts and files that are dropped: nothing that the first screen waits for
const LessonTold = lazy(async () => {
  await firstScreen;
  return { default: (await import('../lessons/LessonTold.tsx')).LessonTold };
});
const SCREEN_OF = {
  chart: lazy(() => import('../chart/ChartScreen.tsx')),
  study: lazy(() => import('../study/StudyScreen.tsx')),
  play: lazy(() => import('../play/PlayScreen.tsx')),
  pages: lazy(() => import('../pages/PagesScreen.tsx')),
} satisfies Record<Screen, unknown>;

/** Which screen is shown, in the frame that is round all of them. */
export function App() {
  const address = useStore($address);
  if (address.kind === 'lessons') {
    return (
      <Frame>
        <Fault>
          <Suspense fallback={<Opening />}>
            <LessonsScreen />
            <IsThere />
          </Suspense>
        </Fault>
      </Frame>
    );
  }
  return <LessonFrame key={address.id} id={address.id} screen={address.screen} />;
}

/** Says so once the screen beside it is there: nothing in a Suspense is before all of it is. */
function IsThere() {
  useEffect(screenIsThere, []);
  return null;
}

function Opening() {
  return (
    <StateNote state="opening" role="status">
      <p>{words.shell.opening}</p>
    </StateNote>
  );
}

function LessonFrame({ id, screen }: { readonly id: string; readonly screen: Screen }) {
  const open = useStore($open);
  const notOpened = useStore($notOpened);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    void openStored(id).then((read) => {
      if (read === undefined) setFault(words.shell.notFound);
    });
    return () => {
      closeLesson();
      void dropUntouched(id);
    };
  }, [id]);
  const Shown = SCREEN_OF[screen];
  return (
    <Frame open={open} screen={screen}>
      <Suspense fallback={null}>
        <LessonTold />
      </Suspense>
      {fault !== null ? (
        <StateNote state="not kept" role="alert">
          <p>
            {fault} <a href={hrefOf({ kind: 'lessons' })}>{words.shell.toLessons}</a>
          </p>
        </StateNote>
      ) : open?.id === id ? (
        <Fault key={screen}>
          <Suspense fallback={<Opening />}>
            <Shown />
            <IsThere />
          </Suspense>
        </Fault>
      ) : notOpened === null ? (
        <Opening />
      ) : (
        <IsThere />
      )}
    </Frame>
  );
}
