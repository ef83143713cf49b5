import { formatKey, keysAlong, parseKey, severityOf, type DrillOrder, type Key, type Lesson } from '@fivespan/core';
import type { Paper, View } from '@fivespan/formats/handout';
import { useEffect, useId, useMemo } from 'react';
import {
  $pagesChoice,
  choiceFor,
  choosePages,
  closePages,
  printedLesson,
  saveDrill,
  saveKeyFile,
  saveLessonFile,
  showPages,
  type PrintedLesson,
} from '../../features/handing-out/index.ts';
import { showDrillOnPaper } from '../../features/drill/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { $made, $open, type OpenLesson } from '../../features/open-lesson/index.ts';
import { $settings, changeSettings } from '../../features/settings/index.ts';
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
import { SoundPanel } from './SoundPanel.tsx';
import { PrintButton } from './PrintButton.tsx';
import { Preview } from './Preview.tsx';

const VIEWS: readonly View[] = ['study', 'play'];
const PAPERS: readonly Paper[] = ['a4', 'letter'];

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
        <h1>{words.pages.title}</h1>
        <p>
          {words.pages.nothingToPrint}{' '}
          <a href={hrefOf({ kind: 'lesson', id: open.id, screen: 'chart' })}>{words.pages.toChart}</a>
        </p>
      </>
    );
  }
  // the key is known when the lesson has been computed for the first time: a moment
  if (made === null) {
    return (
      <>
        <h1>{words.pages.title}</h1>
        <p role="status">{words.pages.setting}</p>
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
      <div className={styles.columns}>
        <div className={styles.side}>
          <h1>{words.pages.title}</h1>
          {open.issues.some((issue) => severityOf(issue) === 'error') && (
            <p className={panel.wrong}>
              {words.pages.partly}{' '}
              <a href={hrefOf({ kind: 'lesson', id: open.id, screen: 'chart' })}>{words.pages.toChart}</a>
            </p>
          )}
          <WhichPages lessonId={open.id} view={view} keyShown={key} own={own} paper={paper} />
          <p className={panel.line}>
            <button
              className="main"
              onClick={() =>
                void (drill?.isOnPaper === true
                  ? saveDrill(lesson, drill.order, 'pdf', paper)
                  : saveKeyFile(lesson, key, `${view}.pdf`, paper))
              }
            >
              {words.pages.savePdf}
            </button>
            <PrintButton />
          </p>
          <Panel title={words.drill.title}>
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
          <Panel title={words.pages.otherFiles}>
            <p className="soft">{words.pages.otherFilesAbout(keyText(key))}</p>
            <p className={panel.line}>
              <button onClick={() => void saveKeyFile(lesson, key, 'lesson.musicxml', paper)}>
                {words.pages.saveMusicXml}
              </button>
              <button onClick={() => void saveKeyFile(lesson, key, 'lesson.mid', paper)}>{words.pages.saveMidi}</button>
            </p>
          </Panel>
          <Panel title={words.pages.lessonFile}>
            <p className="soft">{words.pages.lessonFileAbout}</p>
            <p>
              <button onClick={() => void saveLessonFile(lesson)}>{words.pages.saveLesson}</button>
            </p>
          </Panel>
        </div>
        <Preview lessonId={open.id} />
      </div>
      <OrderList />
    </>
  );
}

function WhichPages({
  lessonId,
  view,
  keyShown,
  own,
  paper,
}: {
  readonly lessonId: string;
  readonly view: View;
  readonly keyShown: Key;
  readonly own: Key;
  readonly paper: Paper;
}) {
  const id = useId();
  const keyText = useKeyText();
  const keys = keysAlong(own, 'fourths');
  return (
    <div className={panel.fields}>
      <fieldset>
        <legend>{words.pages.view}</legend>
        {VIEWS.map((each) => (
          <label key={each} className={panel.option}>
            <input
              type="radio"
              name={`${id}-view`}
              checked={view === each}
              onChange={() => {
                // whoever asks for a page wants to see it
                showDrillOnPaper(null);
                choosePages(lessonId, { view: each });
              }}
            />
            <span>
              {words.pages.views[each].name}
              <small>{words.pages.views[each].about}</small>
            </span>
          </label>
        ))}
      </fieldset>
      <p className={panel.line}>
        <label htmlFor={`${id}-key`}>{words.pages.key}</label>
        <select
          id={`${id}-key`}
          value={formatKey(keyShown)}
          onChange={(event) =>
            choosePages(lessonId, { key: keys.find((each) => formatKey(each) === event.target.value) ?? null })
          }
        >
          {keys.map((each, index) => (
            <option key={formatKey(each)} value={formatKey(each)}>
              {index === 0 ? words.pages.ownKey(keyText(each)) : keyText(each)}
            </option>
          ))}
        </select>
      </p>
      <fieldset>
        <legend>{words.pages.paper}</legend>
        <div className={panel.row}>
          {PAPERS.map((each) => (
            <label key={each} className={panel.short}>
              <input
                type="radio"
                name={`${id}-paper`}
                checked={paper === each}
                onChange={() => changeSettings({ paper: each })}
              />
              {words.pages.papers[each]}
            </label>
          ))}
        </div>
      </fieldset>
    </div>
  );
}
