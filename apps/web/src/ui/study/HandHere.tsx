import { pitchClassOf, reachOf, typeset, type Midi } from '@fivespan/core';
import { degreeLabel, markOf } from '@fivespan/formats/diagram';
import { flushSync } from 'react-dom';
import {
  $shapeMarks,
  lookAtPosition,
  lookAtRoute,
  pinPosition,
  pinsAt,
  positionHeard,
  sound,
  type LadderView,
  type LookedAt,
  type Study,
} from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { Drawn } from '../controls/Drawn.tsx';
import { SoundSign } from '../controls/SoundSign.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { useThumbText } from '../words/thumb-name.ts';
import styles from './HandHere.module.css';
import { HandPicture } from './HandPicture.tsx';
import { HandsBeside } from './HandsBeside.tsx';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { TakeOff, usePinsHere } from './Pins.tsx';
import { ThumbTab } from '../keyboard/ThumbTab.tsx';

/** Where the hand is over the chosen chord: the thumb large, the keys, the other places it could take, and before and after. */
export function HandHere({ study, view }: { readonly study: Study; readonly view: LadderView }) {
  const { chord, position, thumbMidi } = view.lookedAt;
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  if (position === null || thumbMidi === null) {
    return (
      <Drawn picture="rest">
        <p>{words.study.noHand(typeset(view.lookedAt.chordScale.name))}</p>
      </Drawn>
    );
  }
  const mark = markOf(marks, position.shape);
  const reach = reachOf(position.shape, pitchClassOf(position.thumb), study.choices.hand);
  const hear = onHearKey(() => positionHeard(chord, position, thumbMidi));
  return (
    <div className={styles.hand}>
      <div className={styles.head}>
        <span className={styles.letter} aria-hidden="true">
          {thumbText.printed(position.thumb, mark)}
        </span>
        <div className={styles.what}>
          <h2 id="study-chord" tabIndex={-1}>
            <ChordName chord={study.planned.analysed.played.slot.chord} step="text" />{' '}
            <span className={styles.shape}>
              {words.study.shapeOn(typeset(position.shape.name), thumbText.said(position.thumb, mark))}
            </span>
          </h2>
          <Notes lookedAt={view.lookedAt} />
          <Thumbs view={view} onKeyDown={hear} />
        </div>
        <Acts study={study} view={view} onKeyDown={hear} />
      </div>
      <div className={styles.keys}>
        <HandPicture view={view} />
      </div>
      {reach.verdict !== 'easy' && (
        <p className={styles.care} role="note">
          {reach.verdict === 'out of reach' ? words.study.handBeyond : words.study.handNear}
        </p>
      )}
      <HandsBeside study={study} />
    </div>
  );
}

/** The five notes, and what they are over the chord. */
function Notes({ lookedAt: { chord, chordScale, position } }: { readonly lookedAt: LookedAt }) {
  const noteText = useNoteText();
  if (position === null) return null;
  const labels = position.notes.map((note) => degreeLabel(chord, chordScale, note));
  const rubs = position.notes.filter((_, index) => labels[index]?.kind === 'rubs').map(noteText);
  return (
    <p className={styles.notes}>
      <span className="serif">{position.notes.map(noteText).join(' ')}</span>
      {': '}
      {words.study.ofTheChord(labels.map(({ text }) => text))} {words.study.whatRubs(rubs)}
    </p>
  );
}

interface PartProps {
  readonly view: LadderView;
  readonly onKeyDown: (event: React.KeyboardEvent) => void;
}

/** The thumbs of the family, and the octave. */
function Thumbs({ view: { lookedAt }, onKeyDown }: PartProps) {
  const { family, position, thumbMidi, thumbKeys } = lookedAt;
  const thumbText = useThumbText();
  const marks = useStore($shapeMarks);
  if (position === null) return null;
  const octave = (by: 12 | -12): Midi | undefined =>
    thumbKeys.find((key) => thumbMidi !== null && key === thumbMidi + by);
  return (
    <div className={styles.thumbs} role="group" aria-label={words.study.positions}>
      <span aria-hidden="true">{words.study.positions}</span>
      {(family?.positions ?? []).map(({ thumb, shape }) => {
        const isHere = pitchClassOf(thumb) === pitchClassOf(position.thumb);
        const mark = markOf(marks, shape);
        return (
          <button
            key={thumb}
            type="button"
            className={styles.thumb}
            aria-label={words.study.position(thumbText.said(thumb, mark))}
            aria-current={isHere || undefined}
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => lookAtPosition(pitchClassOf(thumb), null)}
            onKeyDown={onKeyDown}
          >
            <ThumbTab name={thumbText.printed(thumb, mark)} isHere={isHere} />
          </button>
        );
      })}
      {([-12, 12] as const).map((by) => {
        const key = octave(by);
        return (
          <button
            key={by}
            type="button"
            disabled={key === undefined}
            onKeyDown={onKeyDown}
            onClick={() => key !== undefined && lookAtPosition(pitchClassOf(position.thumb), key)}
          >
            {by < 0 ? words.study.lower : words.study.higher}
          </button>
        );
      })}
    </div>
  );
}

/** Pinning this hand, hearing it, and going back to what is used. */
function Acts({ study, view: { lookedAt }, onKeyDown }: PartProps & { readonly study: Study }) {
  const { chord, chordScale, position, thumbMidi, isUsed } = lookedAt;
  const pin = usePinsHere(study).find(({ kind }) => kind === 'position');
  if (position === null || thumbMidi === null) return null;
  const isPinned = pinsAt(study.choices.pins, study.name).position?.thumbMidi === thumbMidi && isUsed;
  return (
    <div className={styles.acts}>
      {isPinned && pin !== undefined ? (
        <TakeOff study={study} pin={pin} />
      ) : (
        <button
          type="button"
          className="main"
          onKeyDown={onKeyDown}
          onClick={() => pinPosition(study, chordScale, position.shape.id, thumbMidi)}
        >
          {words.study.pinPosition}
        </button>
      )}
      <button
        type="button"
        aria-keyshortcuts={HEAR_KEY}
        onClick={() => void sound(positionHeard(chord, position, thumbMidi))}
        onKeyDown={onKeyDown}
      >
        <SoundSign /> {words.study.hear} {words.study.hearThe.position}
      </button>
      <button
        type="button"
        className="plain"
        disabled={isUsed}
        onClick={({ currentTarget }) => {
          const hand = currentTarget.parentElement?.parentElement;
          flushSync(lookAtRoute);
          // this button rests now: the focus goes to the thumb that is used
          hand?.querySelector<HTMLElement>('[aria-current]')?.focus();
        }}
      >
        {words.study.backToRoute}
      </button>
    </div>
  );
}
