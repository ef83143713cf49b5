import { $drillPlayed, drillPlayedOf } from '../../features/drill/index.ts';
import { $piece, $playing, startOrPause, tryAgain, type Playing } from '../../features/playing/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { $settings } from '../../features/settings/index.ts';
import { $today } from '../../features/today/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './BeforePlaying.module.css';
import { DrillChosen, DrillToPlay } from '../drill/DrillToPlay.tsx';
import { RecordPanel } from '../takes/RecordPanel.tsx';
import { TakesPanel } from '../takes/TakesPanel.tsx';
import { Hurts } from '../today/Hurts.tsx';
import { RestOffered, TodayBefore } from '../today/TodayBar.tsx';
import { TodayPanel } from '../today/TodayPanel.tsx';
import { BarePanel } from './BarePanel.tsx';
import { Cautions } from './Cautions.tsx';
import { FirstHand } from './FirstHand.tsx';
import { FillPanel } from './FillPanel.tsx';
import { KeyboardPanel, pedalText } from './KeyboardPanel.tsx';
import { PlayersPanel } from './PlayersPanel.tsx';
import { PracticePanel } from './PracticePanel.tsx';
import { ProgrammeTable } from './ProgrammeTable.tsx';
import { SetUpPanel } from './SetUpPanel.tsx';
import { SoundPanel } from './SoundPanel.tsx';
import { ThreeChoices } from './ThreeChoices.tsx';
import { Ways } from './Ways.tsx';

/** What is to be played and how, and the control that starts it. */
export function BeforePlaying() {
  const playing = useStore($playing);
  const { pedal } = useStore($settings);
  const open = useStore($open);
  const drill = drillPlayedOf(open?.id, useStore($drillPlayed));
  const today = useStore($today);
  return (
    <div className={styles.before}>
      <FirstHand />
      <Hurts />
      {today !== null ? <TodayBefore /> : drill === null ? <ThreeChoices /> : <DrillToPlay />}
      <div className={styles.start}>
        <button
          className={`main ${styles.control}`}
          disabled={playing.kind === 'nothing' || playing.kind === 'failed'}
          onClick={startOrPause}
        >
          {words.play.start}
        </button>
        <div>
          <Status playing={playing} />
          <p className="soft">{words.play.handsFree(pedalText(pedal))}</p>
        </div>
      </div>
      {drill === null && today === null && <RecordPanel />}
      <p className={styles.care}>
        <strong>{words.play.care}:</strong> {words.play.careLine}
      </p>
      <RestOffered />
      <div className={styles.folded}>
        {drill === null && today === null && (
          <details className={styles.more}>
            <summary>{words.today.title}</summary>
            <div className={styles.todays}>
              <DrillChosen>{(order) => <TodayPanel drill={order} />}</DrillChosen>
              <DrillToPlay />
              {open !== null && <TakesPanel lessonId={open.id} />}
            </div>
          </details>
        )}
        <details className={styles.more}>
          <summary>{words.play.more}</summary>
          <div className={styles.rest}>
            <div className={styles.ways}>
              <Ways />
            </div>
            {drill === null && (
              <div className={styles.programme}>
                <ProgrammeTable />
                <FillPanel />
                <SetUpPanel />
              </div>
            )}
            <div className={styles.panels}>
              <SoundPanel />
              <PracticePanel isPlaying={false} isTempoElsewhere={drill === null} />
              <PlayersPanel />
              <KeyboardPanel />
              <BarePanel />
            </div>
          </div>
        </details>
      </div>
      <Cautions />
    </div>
  );
}

function Status({ playing }: { readonly playing: Playing }) {
  const piece = useStore($piece);
  const isHeld = useStore($open)?.isHeld === true;
  if (playing.kind === 'failed') {
    return (
      <p role="alert">
        {words.play.failed[playing.why]}{' '}
        {playing.why !== 'too long' && <button onClick={() => void tryAgain()}>{words.play.tryAgain}</button>}
      </p>
    );
  }
  const choruses = piece?.segments.filter(({ kind }) => kind === 'chorus').length ?? 0;
  return (
    <p role="status">
      {playing.kind === 'nothing'
        ? isHeld
          ? words.play.held
          : words.play.nothing
        : piece === null
          ? words.play.preparing
          : words.play.ready(choruses, piece.endSeconds)}
    </p>
  );
}
