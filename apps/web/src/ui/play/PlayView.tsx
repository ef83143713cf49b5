import { useId, useMemo, useState } from 'react';
import {
  $heardKeys,
  $moment,
  $piece,
  $playing,
  $practice,
  chorusSegments,
  goToBar,
  isSounding,
  loopBars,
  nextSaid,
  putDown,
  startOrPause,
  touchThumb,
  type Moment,
  type Playing,
  type Said,
} from '../../features/playing/index.ts';
import { $drillPlayed, drillPlayedOf } from '../../features/drill/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { $replay } from '../../features/takes/index.ts';
import { $today } from '../../features/today/index.ts';
import { FormChart, type FormCell } from '../stage/FormChart.tsx';
import { Stage } from '../stage/Stage.tsx';
import { useStore } from '../use-store.ts';
import { Ways } from './Ways.tsx';
import { TodayBar } from '../today/TodayBar.tsx';
import { RecordingSign } from '../takes/RecordPanel.tsx';
import { words } from '../words/index.ts';
import { useThumbText } from '../words/thumb-name.ts';
import { barName } from './bar-name.ts';
import { BarePanel } from './BarePanel.tsx';
import styles from './PlayView.module.css';
import { PlayersPanel } from './PlayersPanel.tsx';
import { PracticePanel } from './PracticePanel.tsx';
import { useStageContent } from './use-stage-content.ts';

/** Each time the control means something else it takes the focus: space bar and Enter are for it. */
function takeFocus(control: HTMLButtonElement | null): void {
  control?.focus({ preventScroll: true });
}

/**
 * A finger or mouse that presses something else leaves the focus with the control: the space bar goes on being for that. Who goes
 * about by keys takes the focus along, and the space bar then presses what has it.
 */
function keepFocus(event: React.MouseEvent): void {
  if ((event.target as Element).closest('button') !== null) event.preventDefault();
}

/** Play view: chord and hand, now and next, the keys, the form. Readable from the bench. */
export function PlayView() {
  const id = useId();
  const moment = useStore($moment);
  const playing = useStore($playing);
  const [isAdjusting, setIsAdjusting] = useState(false);
  const open = useStore($open);
  const drill = useStore($drillPlayed);
  const replay = useStore($replay);
  const today = useStore($today);
  // a drill and a step of today are no takes
  const isTune = replay === null && today === null && drillPlayedOf(open?.id, drill) === null;
  const sounds = isSounding(playing);
  // how it goes on is asked below: one ink button a screen
  const isAskedBelow = useStore($today) !== null && playing.kind === 'ended';
  const rests = playing.kind === 'paused' ? words.play.paused : playing.kind === 'ended' ? words.play.ended : null;
  const control = (
    <>
      {!isAskedBelow && (
        <button
          key={String(sounds)}
          ref={takeFocus}
          className={sounds ? styles.stop : `main ${styles.goOn}`}
          onClick={startOrPause}
        >
          {sounds ? (
            <>
              <svg viewBox="0 0 20 20" width="18" height="18" aria-hidden="true">
                <rect x="4" y="4" width="12" height="12" fill="currentColor" />
              </svg>
              <span>{words.play.stop}</span>
            </>
          ) : (
            <StartWords playing={playing} moment={moment} />
          )}
        </button>
      )}
      {!sounds && (
        <button className={styles.back} onClick={putDown}>
          {words.play.back}
        </button>
      )}
    </>
  );
  return (
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-element-interactions -- it only leaves the focus where it is
    <section
      className={styles.view}
      aria-label={words.play.title}
      data-at-rest={rests === null ? undefined : ''}
      data-long={(moment?.bars.length ?? 0) > 16 || undefined}
      onMouseDown={keepFocus}
    >
      {moment === null ? (
        <>
          <div className={styles.waiting}>{control}</div>
          <p className={styles.starting}>{words.play.starting}</p>
        </>
      ) : (
        <Now moment={moment} rests={rests} control={control} />
      )}
      <p className="unseen" role="status">
        {rests ?? ''}
      </p>
      <TodayBar />
      <div className={styles.foot}>
        <Ways />
        {moment !== null && <About moment={moment} />}
        {isTune && <RecordingSign />}
        {replay !== null && <p>{words.takes.playingBack}</p>}
        <button
          className={`plain ${styles.adjust}`}
          aria-expanded={isAdjusting}
          aria-controls={`${id}-adjust`}
          onClick={() => setIsAdjusting(!isAdjusting)}
        >
          {words.play.adjust}
        </button>
      </div>
      <div id={`${id}-adjust`} className={styles.panels} hidden={!isAdjusting}>
        {isAdjusting && (
          <>
            <PracticePanel isPlaying={sounds} />
            <PlayersPanel />
            <BarePanel />
          </>
        )}
      </div>
    </section>
  );
}

/** What the control does where nothing sounds. */
function StartWords({ playing, moment }: { readonly playing: Playing; readonly moment: Moment | null }) {
  if (playing.kind === 'ended') return words.play.again;
  if (playing.kind !== 'paused') return words.play.start;
  const bar = moment?.bars[playing.at.bar];
  return bar === undefined ? words.play.start : words.play.goOn(barName(bar));
}

interface NowProps {
  readonly moment: Moment;
  /** What is to be read where the beats are, while nothing sounds; null while it does. */
  readonly rests: string | null;
  readonly control: React.ReactNode;
}

function Now({ moment, rests, control }: NowProps) {
  const marks = useStore($heardKeys);
  const { loop } = useStore($practice);
  const content = useStageContent(moment, rests);
  const { bars, bar, chorus } = moment;
  const cells = useMemo(
    () =>
      bars.map((each): FormCell => ({
        number: each.number,
        name: barName(each),
        section: each.startsSection ? each.section : null,
        chords: each.chords,
        isAsBefore: each.isAsBefore,
      })),
    [bars],
  );
  return (
    <>
      <Stage
        content={content}
        control={control}
        marks={marks}
        onTab={({ midi, isSecond }) => touchThumb(midi, isSecond === true ? 'second' : 'first')}
      />
      <FormChart
        cells={cells}
        now={bar}
        loop={loop?.chorus === chorus ? { from: loop.fromBar, to: loop.toBar } : null}
        onGoTo={(to) => goToBar({ chorus, bar: to })}
        onLoop={(fromBar, toBar) => loopBars({ chorus, fromBar, toBar })}
      />
      <NextThumbSaid moment={moment} />
    </>
  );
}

/** Which chorus it is, and which bars are played again and again. */
function About({ moment: { chorus, bars } }: { readonly moment: Moment }) {
  const piece = useStore($piece);
  const { loop } = useStore($practice);
  const [from, to] = [bars[loop?.fromBar ?? -1], bars[loop?.toBar ?? -1]];
  return (
    <p className={styles.about}>
      {piece !== null && words.play.chorus(chorus + 1, chorusSegments(piece).length)}
      {loop?.chorus === chorus && from !== undefined && to !== undefined && (
        <>
          {' · '}
          {words.play.looped(from.number, to.number)}{' '}
          <button className={`plain ${styles.adjust}`} onClick={() => loopBars(null)}>
            {words.play.loopEnds}
          </button>
        </>
      )}
    </p>
  );
}

/** For who does not look: the next thumb, said once, when it becomes another, and not more often than once a bar. */
function NextThumbSaid({ moment }: { readonly moment: Moment }) {
  const thumbText = useThumbText();
  const [said, setSaid] = useState<Said | null>(null);
  const now = nextSaid(said, moment);
  // derived from what was said before: React draws it anew at once
  if (now !== said) setSaid(now);
  const thumb = now?.hand == null ? null : thumbText.said(now.hand.position.thumb, now.hand.mark);
  return (
    <p className="unseen" aria-live="polite" aria-atomic="true" data-said>
      {now === null
        ? ''
        : thumb === null
          ? words.play.saidStays
          : now.isFirst
            ? words.play.saidFirst(thumb)
            : words.play.saidNext(thumb)}
    </p>
  );
}
