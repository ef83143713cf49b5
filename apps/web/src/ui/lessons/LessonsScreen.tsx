import type { Key } from '@fivespan/core';
import { lazy, Suspense, useEffect, useMemo, useRef, useState } from 'react';
import { $restored, $restoring, takeRestoringBack, type TakenBack } from '../../features/backup/index.ts';
import {
  $isDemoHere,
  $lessons,
  $removed,
  putDemoBack,
  putRemovedBack,
  refreshLessons,
  type LessonSummary,
} from '../../features/lesson-list/index.ts';
import { goTo } from '../../features/navigation/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { BackupPart } from './BackupPart.tsx';
import { DropPlace } from './DropPlace.tsx';
import { faultText } from './fault-text.ts';
import { FileReports } from './FileReports.tsx';
import { LessonRow } from './LessonRow.tsx';
import styles from './Lessons.module.css';
import { NewLesson } from './NewLesson.tsx';
import { outcomeText } from './outcome-text.ts';
import { ShelfTold } from './ShelfTold.tsx';

const RestoreDialog = lazy(() => import('./RestoreDialog.tsx'));

type Order = keyof typeof words.lessons.sortBy;

const byTitle = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });

/** A text to look for another in: without case and accents. */
function plainOf(text: string): string {
  return text.normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();
}

function shownOf(
  lessons: readonly LessonSummary[],
  find: string,
  order: Order,
  keyText: (key: Key) => string,
): readonly LessonSummary[] {
  const plain = plainOf(find.trim());
  const found = lessons.filter(({ title, key }) =>
    plainOf(`${title} ${key === null ? '' : keyText(key)}`).includes(plain),
  );
  return order === 'changed' ? found : found.sort((a, b) => byTitle.compare(a.title, b.title));
}

/** The shelf: every lesson kept on this machine, ways to get new ones, and a copy of all in one file. */
export default function LessonsScreen() {
  const lessons = useStore($lessons);
  const restoring = useStore($restoring);
  const isDemoHere = useStore($isDemoHere);
  const keyText = useKeyText();
  const [find, setFind] = useState('');
  const [order, setOrder] = useState<Order>('changed');
  const [told, setTold] = useState('');
  useEffect(() => void refreshLessons(), []);
  const shown = useMemo(() => shownOf(lessons ?? [], find, order, keyText), [lessons, find, order, keyText]);
  return (
    <div className={styles.screen}>
      <DropPlace />
      <h1>{words.lessons.title}</h1>
      <ShelfTold />
      <NewLesson tell={setTold} />
      <FileReports />
      <Told text={told} tell={setTold} />
      {lessons === null ? (
        <p role="status">{words.lessons.reading}</p>
      ) : (
        <>
          {lessons.length > 1 && (
            <div className={styles.finding}>
              <label>
                {words.lessons.find}
                <input type="search" value={find} onChange={(event) => setFind(event.target.value)} />
              </label>
              <label>
                {words.lessons.sort}
                <select value={order} onChange={(event) => setOrder(event.target.value as Order)}>
                  {Object.entries(words.lessons.sortBy).map(([each, text]) => (
                    <option key={each} value={each}>
                      {text}
                    </option>
                  ))}
                </select>
              </label>
              <span className="soft" role="status">
                {words.lessons.count(shown.length, lessons.length)}
              </span>
            </div>
          )}
          {lessons.length === 0 ? (
            <p>{words.lessons.none}</p>
          ) : shown.length === 0 ? (
            <p>{words.lessons.noneFound(find.trim())}</p>
          ) : (
            <ul className={styles.list}>
              {shown.map((lesson) => (
                <LessonRow key={lesson.id} lesson={lesson} tell={setTold} />
              ))}
            </ul>
          )}
          {!isDemoHere && (
            <p>
              <button onClick={async () => setTold(await openDemo())}>{words.lessons.demo}</button>
            </p>
          )}
          <BackupPart tell={setTold} />
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
          {words.lessons.restored(restored.put, restored.removed)}{' '}
          {restored.put + restored.removed > 0 && (
            <button onClick={async () => tell(takenBackText(await takeRestoringBack()))}>
              {words.lessons.takeBack}
            </button>
          )}
        </p>
      )}
    </div>
  );
}
