import {
  messageOf,
  midiOf,
  pitchAt,
  pitchClass,
  pitchClassOf,
  remedyOf,
  spellingsOf,
  typeset,
  midi,
} from '@fivespan/core';
import { numeralText } from '@fivespan/formats/diagram';
import type { MouseEvent } from 'react';
import { $open, redo, undo } from '../../features/open-lesson/index.ts';
import {
  countPins,
  issuesOfPins,
  PIN_KINDS,
  pinsAt,
  stretchOfScalePin,
  unpin,
  unpinAll,
  type PinKind,
  type Study,
} from '../../features/study/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useNoteText } from '../words/note-names.ts';
import { spokenPitch, spokenSigns } from '../words/spoken.ts';
import styles from './Pins.module.css';
import { PinSign } from './StudyChart.tsx';

/** What is pinned at the chosen chord, with a way to take each off; and pins that cannot be obeyed. */
export function Pins({ study }: { readonly study: Study }) {
  const noteText = useNoteText();
  const keyText = useKeyText();
  const { choices, name, planned } = study;
  const pinned = pinsAt(choices.pins, name);
  const all = countPins(study.lesson, choices.pins);
  const issues = issuesOfPins(study);
  const stretch = stretchOfScalePin(study.lesson.plan.slots, choices.pins, name).map(
    ({ analysed }) => analysed.played.playedBar.bar.number,
  );
  const wordsOf = (kind: PinKind, pitchText: (name: string, octave: number) => string): string | null => {
    switch (kind) {
      case 'chord-scale': {
        const scale = planned.analysed.chordScales.find((each) => each.id === pinned.chordScale);
        if (pinned.chordScale === null) return null;
        return words.study.pin[kind](typeset(scale?.name ?? pinned.chordScale), stretch[0] ?? 0, stretch.at(-1) ?? 0);
      }
      case 'position': {
        if (pinned.position === null) return null;
        const key = midi(pinned.position.thumbMidi);
        const own = planned.position;
        const thumb =
          own !== null && pitchClassOf(own.thumb) === key % 12 ? own.thumb : spellingsOf(pitchClass(key), 1)[0];
        return words.study.pin[kind](
          thumb === undefined ? String(key) : pitchText(noteText(thumb), pitchAt(thumb, key).octave),
        );
      }
      case 'numeral':
        return pinned.numeral === null ? null : words.study.pin[kind](numeralText(pinned.numeral));
      case 'key':
        return pinned.key === null ? null : words.study.pin[kind](keyText(pinned.key));
      case 'voicing':
        return pinned.voicing === null ? null : words.study.pin[kind](voicingText(pinned.voicing, pitchText));
      default:
        return kind satisfies never;
    }
  };
  const voicingText = (keys: readonly number[], pitchText: (name: string, octave: number) => string): string => {
    const shown = [...study.lesson.voicings, ...study.lesson.upperVoicings];
    return keys
      .map((each) => {
        const key = midi(each);
        const named = shown.find(({ slotIndex, pitch }) => slotIndex === study.slotIndex && midiOf(pitch) === key);
        const note = named?.pitch.name ?? spellingsOf(pitchClass(key % 12), 1)[0];
        return note === undefined ? String(key) : pitchText(noteText(note), pitchAt(note, key).octave);
      })
      .join(' ');
  };
  const here = PIN_KINDS.flatMap((kind) => {
    const what = wordsOf(kind, (note, octave) => `${note}${octave}`);
    return what === null ? [] : [{ kind, what, said: spokenSigns(wordsOf(kind, spokenPitch) ?? '') }];
  });
  // a button that takes something away goes with it: the focus goes to the chord's heading
  const toHeading = ({ currentTarget }: MouseEvent<HTMLElement>): void =>
    currentTarget.ownerDocument.getElementById('study-chord')?.focus();
  const open = useStore($open);
  const hasHistory = open?.canUndo === true || open?.canRedo === true;
  return (
    <section aria-labelledby="study-pins" className={styles.pins}>
      <p role="status" className="unseen">
        {here.length === 0 ? '' : `${words.study.pinsHere}: ${here.map(({ said }) => said).join(', ')}`}
      </p>
      <h3 id="study-pins" className={here.length === 0 ? 'unseen' : undefined}>
        {words.study.pinsHere}
      </h3>
      {here.length > 0 && (
        <ul>
          {here.map(({ kind, what, said }) => (
            <li key={kind}>
              <PinSign /> <span>{what}</span>
              <button
                type="button"
                aria-label={words.study.takeOffThe(said)}
                onClick={(event) => {
                  unpin(study, kind);
                  toHeading(event);
                }}
              >
                {words.study.takeOff}
              </button>
            </li>
          ))}
        </ul>
      )}
      <div role="status">
        {issues.length > 0 && (
          <>
            <p>{words.study.notObeyed}:</p>
            <ul className={styles.issues}>
              {issues.map((issue) => (
                <li key={`${issue.code} ${JSON.stringify(issue.args)}`}>
                  {typeset(messageOf(issue))}; {typeset(remedyOf(issue))}
                </li>
              ))}
            </ul>
          </>
        )}
      </div>
      {(all > 0 || hasHistory) && (
        <p className={styles.total}>
          {all > 0 && (
            <>
              {words.study.pinsTotal(all)}{' '}
              <button
                type="button"
                className="plain"
                onClick={(event) => {
                  unpinAll();
                  toHeading(event);
                }}
              >
                {words.study.takeAllOff}
              </button>
            </>
          )}
          <button type="button" className="plain" disabled={open?.canUndo !== true} onClick={undo}>
            {words.study.undo}
          </button>
          <button type="button" className="plain" disabled={open?.canRedo !== true} onClick={redo}>
            {words.study.redo}
          </button>
        </p>
      )}
    </section>
  );
}
