import {
  $moment,
  $piece,
  $playing,
  chorusSegments,
  isSounding,
  putDown,
  startOrPause,
  type Moment,
} from '../../features/playing/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useNoteText } from '../words/note-names.ts';
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
  return (
    <section className={styles.view} aria-label={words.play.title}>
      {moment === null ? <p className={styles.starting}>{words.play.starting}</p> : <Now moment={moment} />}
      <p className="unseen" role="status">
        {playing.kind === 'paused' ? words.play.paused : playing.kind === 'ended' ? words.play.ended : ''}
      </p>
      <div className={styles.controls}>
        <button key={String(sounds)} ref={takeFocus} className={`main ${styles.control}`} onClick={startOrPause}>
          {sounds
            ? words.play.stop
            : playing.kind === 'paused'
              ? words.play.goOn(playing.at.bar + 1)
              : playing.kind === 'ended'
                ? words.play.again
                : words.play.start}
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

/** When the hand moves, as one counts it. */
function whenText(beats: number, beatsInBar: number): string {
  return beats <= MOST_BEATS_COUNTED ? words.play.inBeats(beats) : words.play.inBars(Math.round(beats / beatsInBar));
}

function Now({ moment }: { readonly moment: Moment }) {
  const noteText = useNoteText();
  const keyText = useKeyText();
  const piece = useStore($piece);
  const { hand, next, kind, beat, beats, bar, bars, chord, key, chorus } = moment;
  const thumb = hand === null ? words.play.nowhere : noteText(hand.position.thumb);
  const nextThumb = next === null ? null : noteText(next.hand.position.thumb);
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
            <p className={styles.label} data-next-when>
              {next === null ? words.play.stays : whenText(next.beats, beats)}
            </p>
            <p className={styles.nextLetter} data-thumb-next>
              {nextThumb ?? ' '}
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
                {kind === 'ending' ? words.play.ending : words.play.bar(bar + 1, bars.length)}
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
          <p className={styles.beats} role="img" aria-label={words.play.beat(beat + 1, beats)}>
            {Array.from({ length: beats }, (_, each) => (
              <span key={each} className={each <= beat ? styles.begun : styles.coming} />
            ))}
          </p>
          <p className={styles.about}>
            {keyText(key)}
            {piece !== null && ` · ${words.play.chorus(chorus + 1, chorusSegments(piece).length)}`}
          </p>
        </div>
      </div>
      <PlayKeyboard moment={moment} />
      <FormStrip bars={bars} bar={bar} />
    </>
  );
}
