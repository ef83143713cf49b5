import { typeset, wordsOfLadderReason } from '@fivespan/core';
import { markOf } from '@fivespan/formats/diagram';
import { useRef, useState, type KeyboardEvent } from 'react';
import {
  $isLadderFaulty,
  $shapeMarks,
  lookAtRung,
  pinChordScale,
  pinsAt,
  scaleHeard,
  sound,
  studyAgain,
  type LadderView,
  type Rung,
  type Study,
} from '../../features/study/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import styles from './Ladder.module.css';
import { PinSign } from './StudyChart.tsx';

/** Rungs shown before one asks for more: what is usual stands among them. */
const FIRST_RUNGS = 6;

/** The chord-scales of the chosen chord, inside first: looked at with a press, used with another. */
export function Ladder({ study, view }: { readonly study: Study; readonly view: LadderView }) {
  const list = useRef<HTMLOListElement>(null);
  const [isLong, setLong] = useState(false);
  const isFaulty = useStore($isLadderFaulty);
  const { lookedAt } = view;
  const rungs = isLong
    ? view.rungs
    : view.rungs.filter((each, index) => index < FIRST_RUNGS || each.isLookedAt || each.isUsed);
  const more = view.rungs.length - FIRST_RUNGS;
  const onKeyDown = (event: KeyboardEvent): void => {
    const at = rungs.findIndex((each) => each.isLookedAt);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: rungs.length - 1 }[event.key];
    const rung = to === undefined ? undefined : rungs[to];
    if (rung === undefined || !(event.target as Element).matches('[data-rung]')) {
      onHearKey(() => scaleHeard(lookedAt.chord, lookedAt.chordScale))(event);
      return;
    }
    event.preventDefault();
    lookAtRung(rung.chordScale.id);
    list.current?.querySelector<HTMLElement>(`[data-rung="${rung.chordScale.id}"]`)?.focus();
  };
  return (
    <section aria-labelledby="study-ladder" className={styles.section}>
      <h3 id="study-ladder">{words.study.ladder}</h3>
      {isFaulty && (
        <p role="alert">
          {words.study.ladderFault}{' '}
          <button type="button" onClick={() => void studyAgain()}>
            {words.study.again}
          </button>
        </p>
      )}
      <ol ref={list} className={styles.ladder}>
        {rungs.map((rung) => (
          <RungItem key={rung.chordScale.id} rung={rung} study={study} view={view} onKeyDown={onKeyDown} />
        ))}
      </ol>
      {more > 0 && (
        <button type="button" className="plain" aria-expanded={isLong} onClick={() => setLong(!isLong)}>
          {isLong ? words.study.fewerRungs : words.study.moreRungs(more)}
        </button>
      )}
      <p className={styles.about}>{words.study.aboutRoughness}</p>
    </section>
  );
}

/** A reason as a sentence; a numeral at its start keeps its case, which says major or minor. */
function sentence(reason: string): string {
  return /^[iv]+\b/u.test(reason) ? reason : `${reason.slice(0, 1).toUpperCase()}${reason.slice(1)}`;
}

interface RungProps {
  readonly rung: Rung;
  readonly study: Study;
  readonly view: LadderView;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

function RungItem({ rung, study, view, onKeyDown }: RungProps) {
  const noteText = useNoteText();
  const marks = useStore($shapeMarks);
  const { chordScale, studied, isLookedAt, isUsed } = rung;
  const { chord } = view.lookedAt;
  const isPinned = pinsAt(study.choices.pins, study.name).chordScale === chordScale.id;
  // a scale on another root than the chord's says which
  const root = chordScale.scale.root === chord.root ? '' : `${noteText(chordScale.scale.root)} `;
  const name = `${root}${typeset(chordScale.name)}`;
  // what is used is known before the ladder has been studied
  const known = studied === undefined && isUsed ? study.planned.family : (studied?.family ?? null);
  const thumbs = known?.positions.map(({ thumb, shape }) => noteText(thumb) + markOf(marks, shape)) ?? [];
  // a scale without a family of modes is its own move
  const move = chordScale.move === chordScale.name ? [] : [typeset(words.study.move(chordScale.move))];
  const family = thumbs.length === 0 && studied !== undefined ? words.study.noFamily : thumbs.join(' ');
  const roughness = studied === undefined ? null : studied.roughness.toFixed(2);
  return (
    <li className={styles.rung} data-looked-at={isLookedAt || undefined}>
      <button
        type="button"
        className={styles.look}
        data-rung={chordScale.id}
        tabIndex={isLookedAt ? 0 : -1}
        aria-current={isLookedAt || undefined}
        aria-keyshortcuts={HEAR_KEY}
        onClick={() => lookAtRung(chordScale.id)}
        onKeyDown={onKeyDown}
      >
        <span className={styles.name}>
          {name}{' '}
          {isPinned ? (
            <span className={styles.state}>
              <PinSign /> {words.study.pinned}
            </span>
          ) : (
            isUsed && <span className={styles.state}>{words.study.inUse}</span>
          )}
        </span>
        <span className={styles.move}>{[...move, family].filter((each) => each !== '').join(': ')}</span>
        <span className={styles.out}>{words.study.where(chordScale)}</span>
        <span className={styles.rough}>
          <span className={styles.bar} aria-hidden="true">
            <span style={{ width: `${(studied?.roughness ?? 0) * 100}%` }} />
          </span>
          {roughness !== null && (
            <span className={styles.number}>
              <span className="unseen">{words.study.roughness} </span>
              {roughness}
            </span>
          )}
        </span>
      </button>
      {isLookedAt && (
        <div className={styles.more}>
          <p>{sentence(typeset(wordsOfLadderReason(chordScale.reason) ?? ''))}</p>
          <p className={styles.notes}>{chordScale.notes.map(noteText).join(' ')}</p>
          <div className={styles.acts}>
            {!isPinned && (
              <button
                type="button"
                aria-label={words.study.pinRung(name)}
                onClick={(event) => {
                  pinChordScale(study, chordScale);
                  // this button goes: the focus stays with its rung
                  event.currentTarget.closest('li')?.querySelector<HTMLElement>('[data-rung]')?.focus();
                }}
                onKeyDown={onKeyDown}
              >
                {words.study.pinHere}
              </button>
            )}
            <button
              type="button"
              className="plain"
              aria-keyshortcuts={HEAR_KEY}
              onClick={() => void sound(scaleHeard(chord, chordScale))}
              onKeyDown={onKeyDown}
            >
              {words.study.hear} {words.study.hearThe.scale}
            </button>
          </div>
        </div>
      )}
    </li>
  );
}
