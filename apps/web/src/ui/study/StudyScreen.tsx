import { useEffect, type KeyboardEvent } from 'react';
import { $notMade, $open, redo, undo, type OpenLesson } from '../../features/open-lesson/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import {
  $deskView,
  $ladderView,
  $soundFault,
  $study,
  forgetChosen,
  silence,
  watchLadder,
  type Study,
} from '../../features/study/index.ts';
import { Drawn } from '../controls/Drawn.tsx';
import { useStore } from '../use-store.ts';
import { StateNote } from '../shell/StatePicture.tsx';
import { words } from '../words/index.ts';
import { ChordView } from './ChordView.tsx';
import { DESK_PANEL, DeskBar } from './DeskBar.tsx';
import { HandView } from './HandView.tsx';
import { NotesView } from './NotesView.tsx';
import { PinIssues } from './Pins.tsx';
import styles from './StudyScreen.module.css';
import { StudyStrip } from './StudyStrip.tsx';

/** Ctrl+Z takes the last change back, with Shift (or Ctrl+Y) it is made again; Command on a Mac. */
function onHistoryKey(event: KeyboardEvent): void {
  if (event.altKey || !(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey) undo();
  else if (key === 'y' || key === 'z') redo();
  else return;
  event.preventDefault();
}

/** The desk: the chart, a chord of it, and what is found about it in three views. */
export default function StudyScreen() {
  const open = useStore($open);
  const study = useStore($study);
  useEffect(() => {
    const stop = watchLadder();
    return () => {
      stop();
      silence();
      forgetChosen();
    };
  }, []);
  return (
    // what is inside is the control; this hears the keys of undo and redo from all of it
    // oxlint-disable-next-line jsx-a11y/no-static-element-interactions
    <div className={styles.study} onKeyDown={onHistoryKey}>
      <h1 className="unseen">{words.study.title}</h1>
      {study === null ? (
        <NothingYet open={open} />
      ) : (
        <>
          <StudyStrip study={study} />
          <DeskBar study={study} />
          <PinIssues study={study} />
          <Desk study={study} />
        </>
      )}
    </div>
  );
}

/** What is found about the chosen chord, in the view that is chosen. */
function Desk({ study }: { readonly study: Study }) {
  const desk = useStore($deskView);
  const fault = useStore($soundFault);
  return (
    <div
      id={DESK_PANEL}
      role="tabpanel"
      tabIndex={-1}
      aria-labelledby={`${DESK_PANEL}-tab`}
      aria-busy={!study.isCurrent}
      className={styles.desk}
    >
      {desk !== 'notes' && <LadderHere study={study} View={desk === 'chord' ? ChordView : HandView} />}
      {desk === 'notes' && <NotesView lesson={study.lesson} chosen={study.slotIndex} />}
      {fault !== null && (
        <StateNote state="stopped" role="alert">
          <p>{words.study.soundFault(fault)}</p>
        </StateNote>
      )}
    </div>
  );
}

/** A view of the chord's ladder: where notes are written nobody asks for it. */
function LadderHere({ study, View }: { readonly study: Study; readonly View: typeof ChordView }) {
  const view = useStore($ladderView);
  return <View study={study} view={view} />;
}

/** No chord to study: none is written, or none has been read yet. */
function NothingYet({ open }: { readonly open: OpenLesson | null }) {
  const isNotMade = useStore($notMade) !== null;
  if (open === null) return null;
  if (open.chart === null || open.chart.sections.every(({ bars }) => bars.length === 0)) {
    return (
      <Drawn picture="bars">
        <p>{words.study.noChords}</p>
        <a className="button main" href={hrefOf({ kind: 'lesson', id: open.id, screen: 'chart' })}>
          {words.study.toChart}
        </a>
      </Drawn>
    );
  }
  if (isNotMade) {
    return (
      <Drawn picture="broken">
        <p>{words.study.notRead}</p>
      </Drawn>
    );
  }
  return (
    <Drawn picture="bars">
      <p role="status">{open.isHeld ? words.study.held : words.study.computing}</p>
    </Drawn>
  );
}
