import { formatKey, parseKey, partFileName, severityOf, type DrillOrder, type Key, type Lesson } from '@fivespan/core';
import { useEffect, useMemo } from 'react';
import {
  $pagesChoice,
  choiceFor,
  closePages,
  fileOfPage,
  isPart,
  printedLesson,
  saveDrill,
  saveKeyFile,
  saveLessonFile,
  showPages,
  type PrintedLesson,
} from '../../features/handing-out/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { $made, $open, type OpenLesson } from '../../features/open-lesson/index.ts';
import { $settings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { DrillPanel } from '../drill/DrillPanel.tsx';
import { useDrill } from '../drill/use-drill.ts';
import { ChoicesPanel } from './ChoicesPanel.tsx';
import { useKeyText } from '../words/key-text.ts';
import { OrderList } from './OrderList.tsx';
import { PackPanel } from './PackPanel.tsx';
import styles from './PagesScreen.module.css';
import { Panel } from './Panel.tsx';
import panel from './Panel.module.css';
import { FilmPanel } from '../film/FilmPanel.tsx';
import { SoundPanel } from './SoundPanel.tsx';
import { PrintButton } from './PrintButton.tsx';
import { Preview } from './Preview.tsx';
import { WhichPages } from './WhichPages.tsx';
import { StateNote } from '../shell/StatePicture.tsx';

/** The pages as they will be printed, and everything a lesson can be saved as. */
export default function PagesScreen() {
  const open = useStore($open);
  const made = useStore($made);
  const { chart = null, chartText, choices } = open ?? {};
  // the same while chart and choices are the same: the pages are made anew only where they would differ
  const lesson = useMemo(() => printedLesson(chart, chartText, choices), [chart, chartText, choices]);
  useEffect(
    () => () => {
      void closePages();
    },
    [],
  );
  if (open === null) return null;
  if (lesson === null) {
    return (
      <>
        <h1 className="unseen">{words.pages.title}</h1>
        <StateNote state="nothing">
          <p>
            {words.pages.nothingToPrint}{' '}
            <a href={hrefOf({ kind: 'lesson', id: open.id, screen: 'chart' })}>{words.pages.toChart}</a>
          </p>
        </StateNote>
      </>
    );
  }
  // the key is known when the lesson has been computed for the first time: a moment
  if (made === null) {
    return (
      <>
        <h1 className="unseen">{words.pages.title}</h1>
        <StateNote state="opening" role="status">
          <p>{words.pages.setting}</p>
        </StateNote>
      </>
    );
  }
  return <Pages open={open} lesson={lesson} made={made.lesson} />;
}

function Pages({
  open,
  lesson,
  made,
}: {
  readonly open: OpenLesson;
  readonly lesson: PrintedLesson;
  /** In the tune's own key, as last computed. */
  readonly made: Lesson;
}) {
  const own = made.analysis.key;
  const { paper } = useStore($settings);
  const { view, key: chosen } = choiceFor(open.id, useStore($pagesChoice));
  const key = chosen?.mode === own.mode ? chosen : own;
  const keyText = useKeyText();
  const keyName = formatKey(key);
  const drill = useDrill(open, own);
  const drillText = JSON.stringify(drill?.isOnPaper === true ? drill.order : null);
  useEffect(() => {
    // by its name, which stays the same where another object says the same key
    const drill = JSON.parse(drillText) as DrillOrder | null;
    void showPages({ lesson, view, key: parseKey(keyName) as Key, paper, drill });
  }, [lesson, view, keyName, paper, drillText]);
  return (
    <>
      <h1 className="unseen">{words.pages.title}</h1>
      <div className={styles.top}>
        <WhichPages lessonId={open.id} view={view} keyShown={key} own={own} paper={paper} />
        <div className={styles.out}>
          <PrintButton />
          <button
            className="main"
            onClick={() =>
              void (drill?.isOnPaper === true
                ? saveDrill(lesson, drill.order, 'pdf', paper)
                : saveKeyFile(lesson, key, fileOfPage(view), paper))
            }
          >
            {words.pages.savePdf}
          </button>
        </div>
      </div>
      {open.issues.some((issue) => severityOf(issue) === 'error') && (
        <p className={panel.wrong}>
          {words.pages.partly}{' '}
          <a href={hrefOf({ kind: 'lesson', id: open.id, screen: 'chart' })}>{words.pages.toChart}</a>
        </p>
      )}
      <div className={styles.columns}>
        <Preview lessonId={open.id} />
        <div className={styles.side}>
          <Panel title={words.drill.title} startsOpen={drill?.isOnPaper === true}>
            <DrillPanel open={open} home={own} />
          </Panel>
          <Panel title={words.pages.choices}>
            <ChoicesPanel />
          </Panel>
          <Panel title={words.pages.pack}>
            <PackPanel lesson={lesson} own={own} paper={paper} />
          </Panel>
          <Panel title={words.pages.sound}>
            <SoundPanel lessonId={open.id} lesson={lesson} made={made} />
          </Panel>
          <Panel title={words.film.title}>
            <FilmPanel lesson={lesson} own={own} />
          </Panel>
          <Panel title={words.pages.otherFiles}>
            <p className="soft">{words.pages.otherFilesAbout(keyText(key))}</p>
            <p className={panel.line}>
              <button onClick={() => void saveKeyFile(lesson, key, 'lesson.musicxml', paper)}>
                {words.pages.saveMusicXml}
              </button>
              <button onClick={() => void saveKeyFile(lesson, key, 'lesson.mid', paper)}>{words.pages.saveMidi}</button>
              {isPart(view) && (
                <button onClick={() => void saveKeyFile(lesson, key, partFileName(view, 'musicxml'), paper)}>
                  {words.pages.savePart}
                </button>
              )}
            </p>
          </Panel>
          <Panel title={words.pages.lessonFile}>
            <p className="soft">{words.pages.lessonFileAbout}</p>
            <p>
              <button onClick={() => void saveLessonFile(lesson)}>{words.pages.saveLesson}</button>
            </p>
          </Panel>
        </div>
      </div>
      <OrderList />
    </>
  );
}
