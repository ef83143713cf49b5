import { lazy, Suspense, useState } from 'react';
import { createLesson, EMPTY_CHART } from '../../features/lesson-list/index.ts';
import { goTo } from '../../features/navigation/index.ts';
import { $taking, ACCEPTED_FILES, openFiles, takeFiles } from '../../features/outside-file/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Lessons.module.css';
import { outcomeText } from './outcome-text.ts';

const PasteDialog = lazy(() => import('./PasteDialog.tsx'));

/** The three ways to a new lesson. */
export function NewLesson({
  tell,
  isFirst = false,
}: {
  readonly tell: (text: string) => void;
  /** Nothing is kept yet: this is what one is here for. */
  readonly isFirst?: boolean;
}) {
  const [isPasting, setPasting] = useState(false);
  const { reading } = useStore($taking);
  const make = async (chartText: string): Promise<void> => {
    const { id, outcome } = await createLesson(chartText);
    if (outcome.kind === 'written') goTo({ kind: 'lesson', id, screen: 'chart' });
    else tell(outcomeText(outcome, ''));
  };
  return (
    <div className={styles.making} data-first={isFirst || undefined}>
      <button className={isFirst ? 'main' : undefined} onClick={() => void make(EMPTY_CHART)}>
        {words.lessons.newChart}
      </button>
      <button onClick={() => setPasting(true)}>{words.lessons.paste}</button>
      <button
        disabled={reading !== null}
        aria-describedby="open-file-help"
        onClick={async () => {
          await takeFiles(await openFiles(ACCEPTED_FILES, { several: true }));
        }}
      >
        {words.lessons.openFile}
      </button>
      <span className={reading === null && !isFirst ? 'unseen' : styles.help} id="open-file-help">
        {reading === null ? words.lessons.openFileHelp : words.lessons.readingFile(reading)}
      </span>
      {isPasting && (
        <Suspense>
          <PasteDialog make={make} end={() => setPasting(false)} />
        </Suspense>
      )}
    </div>
  );
}
