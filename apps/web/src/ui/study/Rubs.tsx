import { modulo, rubbingNotes, smootherScale, typeset, type NoteName } from '@fivespan/core';
import { degreeLabel } from '@fivespan/formats/diagram';
import { flushSync } from 'react-dom';
import { lookAtRung, resolutionHeard, sound, type LadderView, type Study } from '../../features/study/index.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import styles from './Rubs.module.css';

/** A note's name, with ♮ where one reads it against an altered one. */
function asChanged(text: string): string {
  return text.length === 1 ? `${text}♮` : text;
}

/** The avoid notes of the chord-scale that is looked at, where each goes, and what to play instead. */
export function Rubs({ study, view }: { readonly study: Study; readonly view: LadderView }) {
  const noteText = useNoteText();
  const { chord, chordScale, family } = view.lookedAt;
  const notes = rubbingNotes(chord, chordScale, family);
  const smoother =
    family === null ? undefined : smootherScale(study.planned.analysed.chordScales, chord, chordScale, family.shape);
  const scaleText = (root: NoteName, name: string): string => `${noteText(root)} ${typeset(name)}`;
  if (notes.length === 0) {
    return <p className={styles.rubs}>{words.study.nothingRubs(typeset(chordScale.name))}</p>;
  }
  return (
    <section aria-labelledby="study-rubs" className={styles.rubs}>
      <h3 id="study-rubs" className="unseen">
        {words.study.rubs}
      </h3>
      {notes.map(({ avoid, above, leftOutBy }) => {
        const note = noteText(avoid.note);
        const degree = degreeLabel(chord, chordScale, avoid.note).text;
        return (
          <p key={avoid.note}>
            <b>✕ {note}</b>
            {above === null
              ? words.study.rubsPlain(degree)
              : words.study.rubsAbove(degree, modulo(above.step, 7), noteText(above.note))}{' '}
            {words.study.resolves(
              note,
              avoid.resolvesTo.map(({ note: to, semitones }) => ({ semitones, to: noteText(to) })),
            )}{' '}
            {leftOutBy.length > 0 && words.study.leftOut(leftOutBy.map(noteText), note)}{' '}
            <button
              type="button"
              className="plain"
              aria-keyshortcuts={HEAR_KEY}
              onClick={() => void sound(resolutionHeard(chord, avoid))}
              onKeyDown={onHearKey(() => resolutionHeard(chord, avoid))}
            >
              {words.study.hear} {words.study.hearThe.resolution(note)}
            </button>
          </p>
        );
      })}
      {smoother !== undefined && (
        <p>
          {words.study.insteadOf(
            scaleText(smoother.chordScale.scale.root, smoother.chordScale.name),
            (
              view.rungs.find((each) => each.chordScale === smoother.chordScale)?.studied?.family ?? smoother.family
            ).positions.map(({ thumb }) => noteText(thumb)),
            smoother.changes.map(({ from, to }) => ({ from: noteText(from), to: asChanged(noteText(to)) })),
          )}{' '}
          <button
            type="button"
            className="plain"
            onClick={({ currentTarget }) => {
              const { id } = smoother.chordScale;
              const page = currentTarget.ownerDocument;
              flushSync(() => lookAtRung(id));
              // nothing rubs there and this button goes: the focus goes to what is looked at
              page.querySelector<HTMLElement>(`[data-rung="${id}"]`)?.focus();
            }}
          >
            {words.study.lookAt(typeset(smoother.chordScale.name))}
          </button>
        </p>
      )}
    </section>
  );
}
