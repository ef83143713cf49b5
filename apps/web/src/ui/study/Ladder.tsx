import { typeset } from '@fivespan/core';
import { markOf } from '@fivespan/formats/diagram';
import { useRef, useState, type KeyboardEvent } from 'react';
import {
  $isLadderFaulty,
  $roughnessShown,
  $shapeMarks,
  lookAtRung,
  pinsAt,
  scaleHeard,
  studyAgain,
  type LadderView,
  type Rung,
  type Study,
} from '../../features/study/index.ts';
import { useStore } from '../use-store.ts';
import { StateNote } from '../shell/StatePicture.tsx';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import styles from './Ladder.module.css';
import { PinSign } from './PinSign.tsx';
import { Roughness } from './Roughness.tsx';
import { LONG_FROM_BARS } from './strip-rows.ts';
import { ThumbTab } from '../keyboard/ThumbTab.tsx';

/** Rungs shown before one asks for more: what is usual stands among them. The strip of a long chart leaves room for fewer. */
const FIRST_RUNGS = { usual: 6, long: 4 };

/** The chord-scales of the chosen chord, from inside out: a press looks at one. */
export function Ladder({ study, view }: { readonly study: Study; readonly view: LadderView }) {
  const list = useRef<HTMLOListElement>(null);
  const [isLong, setLong] = useState(false);
  const isFaulty = useStore($isLadderFaulty);
  const isRoughnessShown = useStore($roughnessShown);
  const { lookedAt } = view;
  const { sections } = study.lesson.chart;
  const isLongChart = sections.reduce((sum, { bars }) => sum + bars.length, 0) >= LONG_FROM_BARS;
  const first = FIRST_RUNGS[isLongChart ? 'long' : 'usual'];
  const rungs = isLong
    ? view.rungs
    : view.rungs.filter((each, index) => index < first || each.isLookedAt || each.isUsed);
  const more = view.rungs.length - first;
  const onKeyDown = (event: KeyboardEvent): void => {
    const at = rungs.findIndex((each) => each.isLookedAt);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: rungs.length - 1 }[event.key];
    const rung = to === undefined ? undefined : rungs[to];
    if (rung === undefined) {
      onHearKey(() => scaleHeard(lookedAt.chord, lookedAt.chordScale))(event);
      return;
    }
    event.preventDefault();
    lookAtRung(rung.chordScale.id);
    list.current?.querySelector<HTMLElement>(`[data-rung="${rung.chordScale.id}"]`)?.focus();
  };
  return (
    <section aria-labelledby="study-ladder" className={styles.section}>
      <div className={styles.head}>
        <h3 id="study-ladder">{words.study.ladder}</h3>
        {more > 0 && (
          <button type="button" className="plain" aria-expanded={isLong} onClick={() => setLong(!isLong)}>
            {isLong ? words.study.fewerRungs : words.study.moreRungs(more)}
            <span className="unseen">{words.study.furtherOut}</span>
          </button>
        )}
        <button
          type="button"
          className="plain"
          aria-expanded={isRoughnessShown}
          onClick={() => $roughnessShown.set(!isRoughnessShown)}
        >
          {words.study.roughness}
        </button>
      </div>
      {isFaulty && (
        <StateNote state="stopped" role="alert">
          <p>
            {words.study.ladderFault}{' '}
            <button type="button" onClick={() => void studyAgain()}>
              {words.study.again}
            </button>
          </p>
        </StateNote>
      )}
      <ol ref={list} className={styles.ladder}>
        {rungs.map((rung) => (
          <RungItem
            key={rung.chordScale.id}
            rung={rung}
            study={study}
            view={view}
            isRoughnessShown={isRoughnessShown}
            onKeyDown={onKeyDown}
          />
        ))}
      </ol>
      {isRoughnessShown && <p className={styles.about}>{words.study.aboutRoughness}</p>}
    </section>
  );
}

interface RungProps {
  readonly rung: Rung;
  readonly study: Study;
  readonly view: LadderView;
  readonly isRoughnessShown: boolean;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

function RungItem({ rung, study, view, isRoughnessShown, onKeyDown }: RungProps) {
  const noteText = useNoteText();
  const marks = useStore($shapeMarks);
  const { chordScale, studied, isLookedAt, isUsed } = rung;
  const { chord, position } = view.lookedAt;
  const isPinned = pinsAt(study.choices.pins, study.name).chordScale === chordScale.id;
  // a scale on another root than the chord's says which
  const root = chordScale.scale.root === chord.root ? '' : `${noteText(chordScale.scale.root)} `;
  // what is used is known before the ladder has been studied
  const known = studied === undefined && isUsed ? study.planned.family : (studied?.family ?? null);
  // a scale without a family of modes is its own move
  const move = chordScale.move === chordScale.name ? [] : [typeset(words.study.move(chordScale.move))];
  const hasNone = known === null && studied !== undefined;
  return (
    <li className={styles.rung} data-looked-at={isLookedAt || undefined}>
      <button
        type="button"
        data-rung={chordScale.id}
        tabIndex={isLookedAt ? 0 : -1}
        aria-current={isLookedAt || undefined}
        aria-keyshortcuts={HEAR_KEY}
        onClick={() => lookAtRung(chordScale.id)}
        onKeyDown={onKeyDown}
      >
        <span className={styles.name}>
          {root}
          {typeset(chordScale.name)}
          {isPinned ? (
            <span className={styles.state}>
              <PinSign /> {words.study.pinned}
            </span>
          ) : (
            isUsed && <span className={styles.state}>{words.study.inUse}</span>
          )}
        </span>{' '}
        <span className={styles.where}>
          {[...move, words.study.where(chordScale), ...(hasNone ? [words.study.noFamily] : [])].join(', ')}
        </span>{' '}
        <span className={styles.thumbs}>
          {(known?.positions ?? []).map(({ thumb, shape }) => (
            <ThumbTab
              key={thumb}
              name={noteText(thumb) + markOf(marks, shape)}
              isHere={isLookedAt && thumb === position?.thumb}
            />
          ))}
        </span>
        {isRoughnessShown && studied !== undefined && <Roughness value={studied.roughness} />}
      </button>
    </li>
  );
}
