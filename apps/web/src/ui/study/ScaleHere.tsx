import { typeset, wordsOfLadderReason } from '@fivespan/core';
import { degreeLabels } from '@fivespan/formats/diagram';
import {
  pinChordScale,
  pinsAt,
  scaleHeard,
  sound,
  type LadderView,
  type LookedAt,
  type Study,
} from '../../features/study/index.ts';
import { SoundSign } from '../controls/SoundSign.tsx';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { HandPicture } from './HandPicture.tsx';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { TakeOff, usePinsHere } from './Pins.tsx';
import { Rubs } from './Rubs.tsx';
import styles from './ScaleHere.module.css';

/** A reason as a sentence; a numeral at its start keeps its case, which says major or minor. */
function sentence(reason: string): string {
  return /^[iv]+\b/u.test(reason) ? reason : `${reason.slice(0, 1).toUpperCase()}${reason.slice(1)}`;
}

/** The chord-scale that is looked at: why, its notes, what they are over the chord, and where they lie. */
export function ScaleHere({ study, view }: { readonly study: Study; readonly view: LadderView }) {
  const noteText = useNoteText();
  const { lookedAt } = view;
  const { chord, chordScale, isScaleUsed } = lookedAt;
  const isPinned = pinsAt(study.choices.pins, study.name).chordScale === chordScale.id;
  const pin = usePinsHere(study).find(({ kind }) => kind === 'chord-scale');
  const name = `${noteText(chordScale.scale.root)} ${typeset(chordScale.name)}`;
  const hear = onHearKey(() => scaleHeard(chord, chordScale));
  return (
    <section aria-labelledby="study-scale" className={styles.here}>
      <div className={styles.head}>
        <h3 id="study-scale">{name}</h3>
        <span className={styles.state}>
          {isPinned ? words.study.pinned : isScaleUsed ? words.study.inUse : words.study.lookedAt}
        </span>
        <div className={styles.acts}>
          <button
            type="button"
            className="plain"
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => void sound(scaleHeard(chord, chordScale))}
            onKeyDown={hear}
          >
            <SoundSign /> {words.study.hear} {words.study.hearThe.scale}
          </button>
          {isPinned && pin !== undefined ? (
            <TakeOff study={study} pin={pin} />
          ) : (
            <button
              type="button"
              className="main"
              aria-label={words.study.pinRung(typeset(chordScale.name))}
              onClick={() => pinChordScale(study, chordScale)}
              onKeyDown={hear}
            >
              {words.study.pinHere}
            </button>
          )}
        </div>
      </div>
      <div className={styles.line}>
        <ScaleNotes lookedAt={lookedAt} />
        <p className={styles.why}>{sentence(typeset(wordsOfLadderReason(chordScale.reason) ?? ''))}</p>
      </div>
      <HandPicture view={view} hasDegrees />
      <Rubs study={study} view={view} />
    </section>
  );
}

/** The notes of the chord-scale; under each what it is over the chord, seen where the keyboard has no room to say it above its keys. */
function ScaleNotes({ lookedAt: { chord, chordScale } }: { readonly lookedAt: LookedAt }) {
  const noteText = useNoteText();
  const degrees = degreeLabels(chord, chordScale);
  const kinds = { 'chord tone': '', tension: 'tension', rubs: 'rubs' } as const;
  return (
    <ol className={styles.notes} aria-label={words.study.scaleNotes}>
      {chordScale.notes.map((note, index) => {
        const degree = degrees[index];
        return (
          <li key={note}>
            <span className={styles.note}>{noteText(note)}</span>{' '}
            {degree !== undefined && (
              <span className={`degree ${kinds[degree.kind]}`}>
                {degree.kind === 'rubs' && '✕'}
                {degree.text}
              </span>
            )}
          </li>
        );
      })}
    </ol>
  );
}
