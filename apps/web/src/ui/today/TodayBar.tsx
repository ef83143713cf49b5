import { $playing, isSounding } from '../../features/playing/index.ts';
import {
  $practised,
  $today,
  chooseRung,
  endToday,
  itHurts,
  nextRound,
  REST_AFTER_SECONDS,
  rungOf,
  takeRest,
  tellPass,
} from '../../features/today/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Today.module.css';
import { useKeyName } from './use-key-name.ts';

const w = words.today;

/** What is asked takes the focus: space bar and Enter answer it. */
function takeFocus(button: HTMLButtonElement | null): void {
  button?.focus({ preventScroll: true });
}

/** The step that is practised: where its ladder stands, and after a pass what it was. It keeps its height: nothing moves while one plays. */
export function TodayBar() {
  const today = useStore($today);
  const playing = useStore($playing);
  const keyName = useKeyName();
  if (today === null) return null;
  const { ladder, step, isAsked, isOver, last } = today;
  const { key, tempoBpm } = rungOf(ladder);
  // once the bars are through what rings on keeps nobody waiting
  const isPlayed = isSounding(playing) && !isOver;
  return (
    <section className={styles.bar} aria-label={w.steps} data-today={step}>
      <p className={styles.now}>
        <strong data-rung>{w.now(w.step[step], keyName(key), tempoBpm)}</strong>{' '}
        <span className="soft">{w.rung((ladder.rungs[ladder.key] ?? 0) + 1, ladder.tempi.length)}</span>{' '}
        <span role="status" data-pass>
          {isAsked ? w.ask : last === null ? '' : w.was(w.answer[last.answer], last.isHeard)}
        </span>
      </p>
      <div className={styles.answers}>
        {isAsked && !isPlayed && (
          <>
            <button ref={takeFocus} className="main" onClick={() => tellPass('clean')}>
              {w.answer.clean}
            </button>
            <button onClick={() => tellPass('not yet')}>{w.answer['not yet']}</button>
          </>
        )}
        {!isAsked && isOver && (
          <button ref={takeFocus} className="main" onClick={nextRound}>
            {w.next}
          </button>
        )}
        <button onClick={itHurts}>{w.hurts}</button>
      </div>
      <RestOffered />
    </section>
  );
}

/** After 25 minutes a rest is offered; nothing stops by itself. */
export function RestOffered() {
  const seconds = useStore($practised);
  if (seconds < REST_AFTER_SECONDS) return null;
  return (
    <p role="status" className={styles.rest}>
      {w.restOffered(seconds)} <button onClick={takeRest}>{w.restTaken}</button>
    </p>
  );
}

/** Before a round: the step, and any key and tempo of its ladder. */
export function TodayBefore() {
  const today = useStore($today);
  const keyName = useKeyName();
  if (today === null) return null;
  const { ladder, step } = today;
  const { key, rungs, keys, tempi } = ladder;
  return (
    <div className={styles.today} role="group" aria-label={w.step[step]}>
      <p>
        <strong>{w.step[step]}</strong>
      </p>
      <p className={styles.line}>
        <label>
          {w.keyHere}{' '}
          <select
            value={key}
            onChange={({ target }) => chooseRung(Number(target.value), rungs[Number(target.value)] ?? 0)}
          >
            {keys.map((each, index) => (
              <option key={each} value={index}>
                {keyName(each)}
              </option>
            ))}
          </select>
        </label>
        <label>
          {w.tempoHere}{' '}
          <select value={rungs[key]} onChange={({ target }) => chooseRung(key, Number(target.value))}>
            {tempi.map((each, index) => (
              <option key={each} value={index}>
                {each}
              </option>
            ))}
          </select>
        </label>
        <button onClick={endToday}>{w.end}</button>
      </p>
    </div>
  );
}
