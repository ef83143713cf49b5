import type { Key } from '@fivespan/core';
import { lazy, Suspense, useEffect, useMemo, useRef, useState } from 'react';
import { $restored, $restoring, takeRestoringBack, type TakenBack } from '../../features/backup/index.ts';
import {
  $goOn,
  $isDemoHere,
  $lessons,
  $removed,
  $shelf,
  arranged,
  foldersOf,
  moveLesson,
  putDemoBack,
  putRemovedBack,
  refreshLessons,
  type LessonSummary,
} from '../../features/lesson-list/index.ts';
import { goTo } from '../../features/navigation/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { DropPlace } from './DropPlace.tsx';
import { EmptyShelf } from './EmptyShelf.tsx';
import { faultText } from './fault-text.ts';
import { FileReports } from './FileReports.tsx';
import { Finding } from './Finding.tsx';
import { GoOn } from './GoOn.tsx';
import styles from './Lessons.module.css';
import { NewLesson } from './NewLesson.tsx';
import { outcomeText } from './outcome-text.ts';
import { Shelf, ShelfComing } from './Shelf.tsx';
import { ShelfFoot } from './ShelfFoot.tsx';
import { ShelfTold } from './ShelfTold.tsx';
import type { Standing } from './use-lesson-acts.tsx';

const RestoreDialog = lazy(() => import('./RestoreDialog.tsx'));

/** From so many on a lesson is looked for rather than seen. */
const FINDING_FROM = 10;

/** A text to look for another in: without case and accents. */
function plainOf(text: string): string {
  return text.normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();
}

function foundIn(
  lessons: readonly LessonSummary[],
  find: string,
  keyText: (key: Key) => string,
): readonly LessonSummary[] {
  const plain = plainOf(find.trim());
  if (plain === '') return lessons;
  return lessons.filter(({ title, key }) => plainOf(`${title} ${key === null ? '' : keyText(key)}`).includes(plain));
}

/** The shelf: the lesson one goes on with, every other kept on this machine, ways to get new ones, and a copy of all in one file. */
export default function LessonsScreen() {
  const lessons = useStore($lessons);
  const restoring = useStore($restoring);
  const [told, setTold] = useState('');
  useEffect(() => void refreshLessons(), []);
  return (
    <div className={styles.screen}>
      <DropPlace />
      <h1 className={lessons?.length === 0 ? 'unseen' : undefined}>{words.lessons.title}</h1>
      {lessons?.length === 0 ? (
        <Empty tell={setTold} told={told} />
      ) : (
        <>
          <NewLesson tell={setTold} />
          <ShelfTold />
          <FileReports />
          <Told text={told} tell={setTold} />
          {lessons === null ? <ShelfComing /> : <Lessons lessons={lessons} tell={setTold} />}
        </>
      )}
      {restoring !== null && (
        <Suspense>
          <RestoreDialog restoring={restoring} />
        </Suspense>
      )}
    </div>
  );
}

type Tell = (text: string) => void;

function Empty({ tell, told }: { readonly tell: Tell; readonly told: string }) {
  const { nothing } = words.lessons;
  return (
    <div className={styles.empty}>
      <ShelfTold />
      <FileReports />
      <EmptyShelf />
      <p className={styles.begin}>{nothing.begin}</p>
      <p className="soft">{nothing.about}</p>
      <NewLesson tell={tell} isFirst />
      <Told text={told} tell={tell} />
      <ShelfFoot lessons={0} tell={tell} demo={<Demo tell={tell} />} />
    </div>
  );
}

function Lessons({ lessons, tell }: { readonly lessons: readonly LessonSummary[]; readonly tell: Tell }) {
  const goOn = useStore($goOn);
  const isDemoHere = useStore($isDemoHere);
  const { arrangement } = useStore($shelf);
  const keyText = useKeyText();
  const [find, setFind] = useState('');
  const [chosen, setFolder] = useState('');
  const focused = useRef<string | null>(null);
  const folders = foldersOf(lessons, arrangement);
  // the last lesson of a folder may have been taken out of it
  const folder = folders.includes(chosen) ? chosen : '';
  const inOrder = useMemo(() => arranged(lessons, arrangement), [lessons, arrangement]);
  const isAll = find.trim() === '' && folder === '';
  // as changed last, the shelf begins with the lesson that lies open; in an order of the teacher's each stands in its place
  const isApart = isAll && arrangement.order === 'changed';
  const shown = foundIn(inOrder, find, keyText).filter(
    ({ id }) => (folder === '' || arrangement.folders[id] === folder) && !(isApart && id === goOn?.id),
  );
  const ids = shown.map(({ id }) => id);
  const standingOf = ({ id }: LessonSummary): Standing => {
    const place = ids.indexOf(id);
    const move = (before: string | null) => async () => {
      const outcome = await moveLesson(ids, id, before);
      tell(outcome.kind === 'written' ? words.lessons.movedByHand : outcomeText(outcome, ''));
    };
    return {
      askFocus: () => {
        focused.current = id;
      },
      takeFocus: () => {
        const isIts = focused.current === id;
        if (isIts) focused.current = null;
        return isIts;
      },
      folders,
      folder: arrangement.folders[id] ?? '',
      earlier: place > 0 ? move(ids[place - 1] ?? null) : null,
      later: place >= 0 && place < ids.length - 1 ? move(ids[place + 2] ?? null) : null,
    };
  };
  return (
    <>
      {isAll && goOn !== null && <GoOn lesson={goOn} standing={standingOf(goOn)} isOnShelf={!isApart} tell={tell} />}
      {lessons.length > 2 && (
        <Finding
          folders={folders}
          folder={folder}
          setFolder={setFolder}
          order={arrangement.order}
          find={lessons.length >= FINDING_FROM ? { text: find, set: setFind } : null}
        />
      )}
      {shown.length > 0 ? (
        <Shelf lessons={shown} standingOf={standingOf} tell={tell} />
      ) : (
        !isAll && <p>{words.lessons.noneFound(find.trim())}</p>
      )}
      <ShelfFoot
        lessons={lessons.length}
        {...(isAll ? {} : { shown: shown.length })}
        tell={tell}
        demo={isDemoHere ? null : <Demo tell={tell} />}
      />
    </>
  );
}

function Demo({ tell }: { readonly tell: Tell }) {
  return (
    <button className="plain" onClick={async () => tell(await openDemo())}>
      {words.lessons.demo}
    </button>
  );
}

function takenBackText(taken: TakenBack): string {
  switch (taken.kind) {
    case 'taken back':
      return words.lessons.takenBack(taken.staying, taken.differing);
    case 'overtaken':
      return `${words.lessons.notDone} ${words.lessons.overtaken}`;
    case 'fault':
      return `${words.lessons.notDone} ${faultText(taken.fault)}`;
  }
}

function putBackText(outcome: Awaited<ReturnType<typeof putRemovedBack>>): string {
  return outcome?.kind === 'fault' ? outcomeText(outcome, '') : '';
}

/** @returns what stands in the way */
async function openDemo(): Promise<string> {
  const { id, outcome } = await putDemoBack();
  if (outcome.kind === 'fault') return outcomeText(outcome, '');
  goTo({ kind: 'lesson', id, screen: 'chart' });
  return '';
}

/** What was done last, and how to take it back. */
function Told({ text, tell }: { readonly text: string; readonly tell: (text: string) => void }) {
  const [removed] = useStore($removed);
  const restored = useStore($restored);
  const undo = useRef<HTMLButtonElement>(null);
  const shown = useRef(removed);
  useEffect(() => {
    // the row that had the focus is gone; what was removed before this screen was opened has no focus to give
    if (removed !== undefined && removed !== shown.current) undo.current?.focus();
    shown.current = removed;
  }, [removed]);
  return (
    <div className={styles.told} role="status">
      {text !== '' && <p>{text}</p>}
      {removed !== undefined && (
        <p>
          {words.lessons.removed(removed.title || words.lessons.untitled)}{' '}
          <button ref={undo} onClick={async () => tell(putBackText(await putRemovedBack()))}>
            {words.lessons.putBack}
          </button>
        </p>
      )}
      {restored !== null && (
        <p>
          {words.lessons.restored(restored.put, restored.removed, restored.takes ?? 0)}{' '}
          {restored.put + restored.removed + (restored.takes ?? 0) > 0 && (
            <button onClick={async () => tell(takenBackText(await takeRestoringBack()))}>
              {words.lessons.takeBack}
            </button>
          )}
        </p>
      )}
    </div>
  );
}
