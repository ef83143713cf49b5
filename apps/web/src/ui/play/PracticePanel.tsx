import { useId } from 'react';
import {
  $piece,
  $practice,
  changePractice,
  chorusSegments,
  FASTEST_RATE,
  SLOWEST_RATE,
  start,
  type FormBar,
  type Piece,
} from '../../features/playing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { barName } from './bar-name.ts';
import styles from './Panels.module.css';

const RATE_STEP = 0.05;

function barsOf(piece: Piece, chorus: number): readonly FormBar[] {
  const segment = chorusSegments(piece)[chorus];
  return segment === undefined ? [] : (piece.forms[segment]?.bars ?? []);
}

/** Where to start, which bars to play again and again, how fast. */
export function PracticePanel({
  isPlaying,
  isTempoElsewhere = false,
}: {
  readonly isPlaying: boolean;
  /** Whether the tempo is chosen elsewhere on the screen. */
  readonly isTempoElsewhere?: boolean;
}) {
  const id = useId();
  const piece = useStore($piece);
  const { start: from, loop, rate } = useStore($practice);
  if (piece === null) return null;
  const choruses = chorusSegments(piece);
  const bars = barsOf(piece, from.chorus);
  const segment = piece.segments[choruses[from.chorus] ?? 0];
  const percent = Math.round(rate * 100);
  const looped = loop ?? { chorus: from.chorus, fromBar: 0, toBar: Math.min(3, bars.length - 1) };
  /** While it plays, another stretch is begun at once: nobody waits for the end of the old one. */
  const change = (next: Parameters<typeof changePractice>[0]): void => {
    changePractice(next);
    if (isPlaying && next.rate === undefined) void start();
  };
  const barOptions = (first: number): React.ReactNode =>
    bars.slice(first).map((bar, index) => (
      <option key={index} value={first + index}>
        {barName(bar)}
      </option>
    ));
  return (
    <section aria-labelledby={`${id}-practice`} className={styles.panel}>
      <h2 id={`${id}-practice`}>{words.play.practice}</h2>
      <fieldset className={styles.line}>
        <legend>{words.play.startAt}</legend>
        <label>
          {words.play.startChorus}{' '}
          <select
            aria-label={words.play.startAtChorus}
            value={from.chorus}
            onChange={({ target }) => {
              const chorus = Number(target.value);
              change({ start: { chorus, bar: 0 }, loop: loop === null ? null : { ...loop, chorus } });
            }}
          >
            {choruses.map((_, index) => (
              <option key={index} value={index}>
                {index + 1}
              </option>
            ))}
          </select>
        </label>
        <label>
          {words.play.startBar}{' '}
          <select
            aria-label={words.play.startAtBar}
            value={from.bar}
            disabled={loop !== null}
            onChange={({ target }) => change({ start: { ...from, bar: Number(target.value) } })}
          >
            {barOptions(0)}
          </select>
        </label>
      </fieldset>
      <fieldset className={styles.line}>
        <legend className="unseen">{words.play.loop}</legend>
        <label className={styles.tick}>
          <input
            type="checkbox"
            checked={loop !== null}
            onChange={({ target }) => change({ loop: target.checked ? looped : null })}
          />
          {words.play.loop}
        </label>
        <label>
          {words.play.loopFrom}{' '}
          <select
            aria-label={words.play.loopFromBar}
            value={looped.fromBar}
            disabled={loop === null}
            onChange={({ target }) => {
              const fromBar = Number(target.value);
              change({ loop: { ...looped, fromBar, toBar: Math.max(fromBar, looped.toBar) } });
            }}
          >
            {barOptions(0)}
          </select>
        </label>
        <label>
          {words.play.loopTo}{' '}
          <select
            aria-label={words.play.loopToBar}
            value={looped.toBar}
            disabled={loop === null}
            onChange={({ target }) => change({ loop: { ...looped, toBar: Number(target.value) } })}
          >
            {barOptions(looped.fromBar)}
          </select>
        </label>
      </fieldset>
      {!isTempoElsewhere && (
        <p className={styles.line}>
          <label htmlFor={`${id}-rate`}>{words.play.tempo}</label>
          <input
            id={`${id}-rate`}
            type="range"
            min={SLOWEST_RATE}
            max={FASTEST_RATE}
            step={RATE_STEP}
            value={rate}
            aria-valuetext={words.play.tempoAll(percent)}
            onChange={({ target }) => change({ rate: Number(target.value) })}
          />
          <output htmlFor={`${id}-rate`}>
            {segment === undefined
              ? words.play.tempoAll(percent)
              : words.play.tempoValue(percent, Math.round(segment.tempoBpm * rate))}
          </output>
        </p>
      )}
    </section>
  );
}
