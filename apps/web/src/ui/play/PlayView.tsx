import { useState } from 'react';
import {
  $moment,
  $piece,
  $playing,
  chorusSegments,
  isSounding,
  nextSaid,
  putDown,
  startOrPause,
  type Moment,
  type Playing,
  type Said,
} from '../../features/playing/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useThumbText } from '../words/thumb-name.ts';
import { barName, lastNumber } from './bar-name.ts';
import { FormStrip } from './FormStrip.tsx';
import { PlayKeyboard } from './PlayKeyboard.tsx';
import styles from './PlayView.module.css';
import { PlayersPanel } from './PlayersPanel.tsx';
import { PracticePanel } from './PracticePanel.tsx';

/** From here on whole bars are easier to count than beats. */
const MOST_BEATS_COUNTED = 12;

/** Each time the control means something else it takes the focus: space bar and Enter are for it. */
function takeFocus(control: HTMLButtonElement | null): void {
  control?.focus({ preventScroll: true });
}

/** Play view: thumb, next thumb, bar, form, keyboard, and one control. Readable from the bench. */
export function PlayView() {
  const moment = useStore($moment);
  const playing = useStore($playing);
  const sounds = isSounding(playing);
  const rests = playing.kind === 'paused' ? words.play.paused : playing.kind === 'ended' ? words.play.ended : null;
  return (
    <section className={styles.view} aria-label={words.play.title}>
      {moment === null ? (
        <p className={styles.starting}>{words.play.starting}</p>
      ) : (
        <Now moment={moment} rests={rests} />
      )}
      <p className="unseen" role="status">
        {rests ?? ''}
      </p>
      <div className={styles.controls}>
        <button key={String(sounds)} ref={takeFocus} className={`main ${styles.control}`} onClick={startOrPause}>
          {sounds ? words.play.stop : <StartWords playing={playing} moment={moment} />}
        </button>
        {!sounds && (
          <button className={styles.back} onClick={putDown}>
            {words.play.back}
          </button>
        )}
      </div>
      <details className={styles.adjust}>
        <summary>{words.play.adjust}</summary>
        <div className={styles.panels}>
          <PracticePanel isPlaying={sounds} />
          <PlayersPanel />
        </div>
      </details>
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

/** When the hand moves, as one counts it. */
function whenText(beats: number, beatsInBar: number): string {
  return beats <= MOST_BEATS_COUNTED ? words.play.inBeats(beats) : words.play.inBars(Math.round(beats / beatsInBar));
}

interface NowProps {
  readonly moment: Moment;
  /** What is to be read where the beats are, while nothing sounds; null while it does. */
  readonly rests: string | null;
}

function Now({ moment, rests }: NowProps) {
  const thumbText = useThumbText();
  const keyText = useKeyText();
  const piece = useStore($piece);
  const { hand, next, kind, beat, beats, bar, bars, chord, key, chorus } = moment;
  const thumb = hand === null ? words.play.nowhere : thumbText.printed(hand.position.thumb, hand.mark);
  const nextThumb = next === null ? null : thumbText.printed(next.hand.position.thumb, next.hand.mark);
  const here = bars[bar];
  return (
    <>
      <div className={styles.now}>
        <div className={styles.thumb}>
          <p className={styles.label}>{kind === 'count-in' ? words.play.thumbFirst : words.play.thumbNow}</p>
          <p className={styles.letter} data-thumb-now>
            {thumb}
          </p>
        </div>
        {kind !== 'count-in' && (
          <div className={styles.next}>
            <p className={styles.when} data-next-when>
              {next === null ? words.play.stays : whenText(next.beats, beats)}
            </p>
            <p className={styles.nextLetter} data-thumb-next>
              {nextThumb ?? '\u00A0'}
            </p>
          </div>
        )}
        <div className={styles.place}>
          <p className={styles.bar} data-bar-now>
            {kind === 'count-in' ? (
              <>
                {words.play.countIn} · {next === null ? '' : whenText(next.beats, beats)}
              </>
            ) : (
              <>
                {kind === 'ending' || here === undefined
                  ? words.play.ending
                  : words.play.bar(here.number, lastNumber(bars))}
                {kind !== 'ending' && here !== undefined && here.passes > 1 && `, ${words.play.time(here.pass)}`}
                {chord !== null && (
                  <>
                    {' · '}
                    <span className={styles.chord}>
                      <ChordName chord={chord} />
                    </span>
                  </>
                )}
              </>
            )}
          </p>
          {rests === null ? (
            <p className={styles.beats} role="img" aria-label={words.play.beat(beat + 1, beats)}>
              {Array.from({ length: beats }, (_, each) => (
                <span key={each} className={each <= beat ? styles.begun : styles.coming} />
              ))}
            </p>
          ) : (
            <p className={styles.rests} data-rests>
              {rests}
            </p>
          )}
          <p className={styles.about}>
            {keyText(key)}
            {piece !== null && ` · ${words.play.chorus(chorus + 1, chorusSegments(piece).length)}`}
          </p>
        </div>
      </div>
      <PlayKeyboard moment={moment} />
      <FormStrip bars={bars} bar={bar} />
      <NextThumbSaid moment={moment} />
    </>
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
