import { useEffect, type KeyboardEvent } from 'react';
import { $open, redo, undo } from '../../features/open-lesson/index.ts';
import { hrefOf } from '../../features/navigation/index.ts';
import { $ladderView, $soundFault, $study, forgetChosen, silence, watchLadder } from '../../features/study/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { ChordHeading } from './ChordHeading.tsx';
import { HandPicture } from './HandPicture.tsx';
import { Ladder } from './Ladder.tsx';
import { OutsideCurve } from './OutsideCurve.tsx';
import { Parts } from './Parts.tsx';
import { Pins } from './Pins.tsx';
import { Rubs } from './Rubs.tsx';
import { StudyChart } from './StudyChart.tsx';
import styles from './StudyScreen.module.css';
import { VoicingPicture } from './VoicingPicture.tsx';
import { WayOfHand } from './WayOfHand.tsx';

/** Ctrl+Z takes the last change back, with Shift (or Ctrl+Y) it is made again; Command on a Mac. */
function onHistoryKey(event: KeyboardEvent): void {
  if (event.altKey || !(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey) undo();
  else if (key === 'y' || key === 'z') redo();
  else return;
  event.preventDefault();
}

/** The desk: the chart and all that is found about it. */
export default function StudyScreen() {
  const open = useStore($open);
  const study = useStore($study);
  const view = useStore($ladderView);
  const fault = useStore($soundFault);
  useEffect(() => {
    const stop = watchLadder();
    return () => {
      stop();
      silence();
      forgetChosen();
    };
  }, []);
  const isEmpty = open !== null && (open.chart === null || open.chart.sections.every(({ bars }) => bars.length === 0));
  return (
    // what is inside is the control; this hears the keys of undo and redo from all of it
    // oxlint-disable-next-line jsx-a11y/no-static-element-interactions
    <div className={styles.study} onKeyDown={onHistoryKey}>
      <h1 className="unseen">{words.study.title}</h1>
      {study === null ? (
        isEmpty ? (
          <p>
            {words.study.noChords}{' '}
            {open !== null && (
              <a href={hrefOf({ kind: 'lesson', id: open.id, screen: 'chart' })}>{words.study.toChart}</a>
            )}
          </p>
        ) : (
          <p role="status">{open?.isHeld === true ? words.study.held : words.study.computing}</p>
        )
      ) : (
        <>
          <StudyChart study={study} />
          <div className={styles.desk} aria-busy={!study.isCurrent}>
            <div className={styles.chord}>
              <ChordHeading study={study} />
              <Pins study={study} />
            </div>
            {view === null ? (
              <p>{words.study.silent}</p>
            ) : (
              <>
                <div className={styles.keyboard}>
                  <HandPicture study={study} view={view} />
                  <Rubs study={study} view={view} />
                </div>
                <div className={styles.ladder}>
                  <Ladder study={study} view={view} />
                </div>
              </>
            )}
          </div>
          {fault !== null && <p role="alert">{words.study.soundFault(fault)}</p>}
          <OutsideCurve study={study} />
          <WayOfHand />
          <VoicingPicture study={study} />
          <Parts lesson={study.lesson} />
        </>
      )}
    </div>
  );
}
