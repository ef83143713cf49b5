import { messageOf, readClock, remedyOf } from '@fivespan/core';
import { useId, useState } from 'react';
import {
  followFile,
  followKept,
  marksFault,
  type Following,
  type PrintedLesson,
  type TakeFollowed,
} from '../../features/handing-out/index.ts';
import { $takes, showTakes } from '../../features/takes/index.ts';
import { momentText } from '../lessons/moment-text.ts';
import { useTakeName } from '../takes/use-take-name.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Film.module.css';

const w = words.film.follow;

/** What was asked for, before whoever played has agreed. */
type Wanted = { readonly kind: 'kept'; readonly text: string; readonly name: string } | { readonly kind: 'file' };

/** A performance for the film to follow: chosen after a plain question, then laid in time with a camera's picture. */
export function FollowTake({
  lesson,
  following,
  put,
}: {
  readonly lesson: PrintedLesson;
  readonly following: Following | null;
  readonly put: (following: Following | null) => void;
}) {
  const id = useId();
  const takes = useStore($takes).filter(({ state }) => state === 'kept');
  const nameOf = useTakeName();
  const [isOpen, setOpen] = useState(false);
  const [wanted, setWanted] = useState<Wanted | null>(null);
  const [fault, setFault] = useState<Exclude<TakeFollowed, { kind: 'take' }> | null>(null);
  const agreed = async (asked: Wanted): Promise<void> => {
    setFault(null);
    const found = asked.kind === 'file' ? await followFile(lesson) : await followKept(asked.text, asked.name);
    setWanted(null);
    if (found.kind === 'take') put({ take: found.take, name: found.name, marks: [], offsetMs: 0, player: '' });
    else setFault(found);
  };
  return (
    <fieldset className={styles.scenes}>
      <legend>{w.title}</legend>
      {following === null ? (
        <>
          {!isOpen && (
            <button
              className="plain"
              onClick={() => {
                setOpen(true);
                void showTakes();
              }}
            >
              {w.choose}
            </button>
          )}
          {isOpen && wanted === null && (
            <>
              <p className="soft">{takes.length === 0 ? w.none : w.about}</p>
              <ul className={styles.takes} aria-label={words.takes.takes}>
                {takes.map((record) => {
                  const name = `${nameOf(record)}, ${momentText(record.at)}`;
                  return (
                    <li key={record.id}>
                      <button onClick={() => setWanted({ kind: 'kept', text: record.take, name })}>{name}</button>
                    </li>
                  );
                })}
              </ul>
              <span className={styles.line}>
                <button onClick={() => setWanted({ kind: 'file' })}>{w.file}</button>
                <button className="plain" onClick={() => setOpen(false)}>
                  {w.notNow}
                </button>
              </span>
            </>
          )}
          {wanted !== null && (
            <div role="group" aria-label={w.mayI}>
              <p>{w.mayI}</p>
              <span className={styles.line}>
                <button onClick={() => void agreed(wanted)}>{w.agreed}</button>
                <button className="plain" onClick={() => setWanted(null)}>
                  {w.notNow}
                </button>
              </span>
            </div>
          )}
        </>
      ) : (
        <Followed id={id} following={following} put={put} />
      )}
      <p role="status" className={fault === null ? 'unseen' : undefined}>
        {fault !== null &&
          (fault.kind === 'refused'
            ? fault.issues.map((issue) => `${messageOf(issue)}. ${remedyOf(issue)}.`).join(' ')
            : w.faults[fault.kind])}
      </p>
    </fieldset>
  );
}

/** The performance that is followed: where it is in the camera's film, how much later, who played. */
function Followed({
  id,
  following,
  put,
}: {
  readonly id: string;
  readonly following: Following;
  readonly put: (following: Following | null) => void;
}) {
  const fault = marksFault(following);
  return (
    <>
      <p>{w.follows(following.name)}</p>
      <p className="soft">{w.syncAbout}</p>
      {[0, 1].map((place) => (
        <MarkRow key={place} place={place} following={following} put={put} />
      ))}
      {fault !== undefined && <p role="alert">{w.marksFault[fault]}</p>}
      <p className={styles.line}>
        <label htmlFor={`${id}-offset`}>{w.offset}</label>
        <input
          id={`${id}-offset`}
          type="number"
          min={-600_000}
          max={600_000}
          step={1}
          value={following.offsetMs}
          onChange={({ target }) => {
            const offsetMs = Number(target.value);
            if (Math.abs(offsetMs) <= 600_000) put({ ...following, offsetMs });
          }}
        />
        <label htmlFor={`${id}-player`}>{w.player}</label>
        <input
          id={`${id}-player`}
          type="text"
          maxLength={80}
          placeholder={w.playerHint}
          value={following.player}
          onChange={({ target }) => put({ ...following, player: target.value })}
        />
      </p>
      <button className="plain" onClick={() => put(null)}>
        {w.stop}
      </button>
    </>
  );
}

const MOMENTS = ['first', 'last', 'seconds'] as const;

/** One mark: a time of the camera's film, and what is heard there of the performance. An empty time is no mark. */
function MarkRow({
  place,
  following,
  put,
}: {
  readonly place: number;
  readonly following: Following;
  readonly put: (following: Following) => void;
}) {
  const { marks } = following;
  const mark = marks[place];
  const [film, setFilm] = useState('');
  const [at, setAt] = useState<(typeof MOMENTS)[number]>(place === 0 ? 'first' : 'last');
  const [seconds, setSeconds] = useState('');
  if (place > marks.length) return null;
  const changed = (next: { film?: string; at?: (typeof MOMENTS)[number]; seconds?: string }): void => {
    const filmSeconds = readClock(next.film ?? film);
    const own = readClock(next.seconds ?? seconds);
    const moment = next.at ?? at;
    const isWhole = filmSeconds !== null && (moment !== 'seconds' || own !== null);
    const set = isWhole ? [{ filmSeconds, moment: { at: moment, seconds: own ?? 0 } }] : [];
    // a second mark without a first is the first
    put({ ...following, marks: [...marks.slice(0, place), ...set, ...(isWhole ? marks.slice(place + 1) : [])] });
  };
  return (
    <p className={styles.line}>
      <label>
        {w.markFilm[place]}{' '}
        <input
          className={styles.time}
          inputMode="decimal"
          placeholder="0:03.25"
          value={film}
          aria-invalid={film.trim() !== '' && mark === undefined}
          onChange={({ target }) => {
            setFilm(target.value);
            changed({ film: target.value });
          }}
        />
      </label>
      <label>
        {w.markTake}{' '}
        <select
          value={at}
          onChange={({ target }) => {
            const next = target.value as (typeof MOMENTS)[number];
            setAt(next);
            changed({ at: next });
          }}
        >
          {MOMENTS.map((each) => (
            <option key={each} value={each}>
              {w.moments[each]}
            </option>
          ))}
        </select>
      </label>
      {at === 'seconds' && (
        <input
          className={styles.time}
          aria-label={w.moments.seconds}
          inputMode="decimal"
          placeholder="0:00.8"
          value={seconds}
          onChange={({ target }) => {
            setSeconds(target.value);
            changed({ seconds: target.value });
          }}
        />
      )}
    </p>
  );
}
