import {
  messageOf,
  midi,
  midiOf,
  pitchAt,
  pitchClass,
  pitchClassOf,
  remedyOf,
  spellingsOf,
  typeset,
  type LineId,
} from '@fivespan/core';
import { numeralText } from '@fivespan/formats/diagram';
import { useId, useRef, useState } from 'react';
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
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useNoteText } from '../words/note-names.ts';
import { spokenPitch, spokenSigns } from '../words/spoken.ts';
import styles from './Pins.module.css';
import { PinSign } from './PinSign.tsx';

/** What is pinned at the chosen chord, as printed and as said. */
export interface PinHere {
  readonly kind: PinKind;
  readonly what: string;
  readonly said: string;
}

/** What is pinned at the chosen chord. */
export function usePinsHere({ lesson, choices, name, planned, slotIndex }: Study): readonly PinHere[] {
  const noteText = useNoteText();
  const keyText = useKeyText();
  const pinned = pinsAt(choices.pins, name);
  const stretch = stretchOfScalePin(lesson.plan.slots, choices.pins, name).map(
    ({ analysed }) => analysed.played.playedBar.bar.number,
  );
  const voicingText = (keys: readonly number[], pitchText: (name: string, octave: number) => string): string => {
    const shown = [...lesson.voicings, ...lesson.upperVoicings];
    return keys
      .map((each) => {
        const key = midi(each);
        const own = shown.find((note) => note.slotIndex === slotIndex && midiOf(note.pitch) === key);
        const note = own?.pitch.name ?? spellingsOf(pitchClass(key % 12), 1)[0];
        return note === undefined ? String(key) : pitchText(noteText(note), pitchAt(note, key).octave);
      })
      .join(' ');
  };
  const isLine = (kind: PinKind): kind is LineId => Object.hasOwn(pinned.notes, kind);
  const wordsOf = (kind: PinKind, pitchText: (name: string, octave: number) => string): string | null => {
    if (isLine(kind)) {
      const count = pinned.notes[kind];
      return count === null ? null : words.study.pin[kind](count);
    }
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
      case 'second-scale': {
        const second = planned.analysed.chordScales.find((each) => each.id === pinned.secondScale);
        return pinned.secondScale === null ? null : words.study.pin[kind](typeset(second?.name ?? pinned.secondScale));
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
  return PIN_KINDS.flatMap((kind) => {
    const what = wordsOf(kind, (note, octave) => `${note}${octave}`);
    return what === null ? [] : [{ kind, what, said: spokenSigns(wordsOf(kind, spokenPitch) ?? '') }];
  });
}

/** Takes one pin off where what it fixes is shown. */
export function TakeOff({ study, pin }: { readonly study: Study; readonly pin: PinHere }) {
  return (
    <button type="button" aria-label={words.study.takeOffThe(pin.said)} onClick={() => unpin(study, pin.kind)}>
      {words.study.takeOff}
    </button>
  );
}

/** How many pins the lesson has; opened, those at the chosen chord, each to be taken off, and all of them at once. */
export function Pins({ study }: { readonly study: Study }) {
  const id = useId();
  const [isOpen, setIsOpen] = useState(false);
  const opener = useRef<HTMLButtonElement>(null);
  const here = usePinsHere(study);
  const all = countPins(study.lesson, study.choices.pins);
  const close = (): void => {
    setIsOpen(false);
    opener.current?.focus();
  };
  return (
    // oxlint-disable-next-line jsx-a11y/no-static-element-interactions -- Escape closes it from wherever in it
    <div
      className={styles.box}
      onKeyDown={({ key }) => {
        if (key === 'Escape' && isOpen) close();
      }}
      onBlur={({ relatedTarget, currentTarget }) => {
        if (relatedTarget !== null && !currentTarget.contains(relatedTarget)) setIsOpen(false);
      }}
    >
      <p role="status" className="unseen">
        {here.length === 0 ? '' : `${words.study.pinsHere}: ${here.map(({ said }) => said).join(', ')}`}
      </p>
      <button
        ref={opener}
        type="button"
        className="plain"
        disabled={all === 0}
        aria-expanded={isOpen && all > 0}
        aria-controls={id}
        onClick={() => setIsOpen(!isOpen)}
      >
        {all > 0 && <PinSign />} {words.study.pinsTotal(all)}
      </button>
      {isOpen && all > 0 && (
        <div id={id} className={styles.list} role="group" aria-label={words.study.pins}>
          <p>{here.length === 0 ? words.study.noPinsHere : words.study.pinsHere}</p>
          <ul>
            {here.map((pin) => (
              <li key={pin.kind}>
                <PinSign /> <span>{pin.what}</span>
                <button
                  type="button"
                  aria-label={words.study.takeOffThe(pin.said)}
                  onClick={() => {
                    unpin(study, pin.kind);
                    close();
                  }}
                >
                  {words.study.takeOff}
                </button>
              </li>
            ))}
          </ul>
          <button
            type="button"
            onClick={() => {
              unpinAll();
              close();
            }}
          >
            {words.study.takeAllOff}
          </button>
        </div>
      )}
    </div>
  );
}

/** Pins that cannot be obeyed. */
export function PinIssues({ study }: { readonly study: Study }) {
  const issues = issuesOfPins(study);
  return (
    <div role="status">
      {issues.length > 0 && (
        <div className={styles.issues}>
          <p>{words.study.notObeyed}:</p>
          <ul>
            {issues.map((issue) => (
              <li key={`${issue.code} ${JSON.stringify(issue.args)}`}>
                {typeset(messageOf(issue))}; {typeset(remedyOf(issue))}
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
