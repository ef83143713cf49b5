import { formatKey, parseKey, typeset, usualKeys, wordsOfReason, type Key, type Reading } from '@fivespan/core';
import { numeralText } from '@fivespan/formats/diagram';
import { useState, type MouseEvent } from 'react';
import {
  chooseSlot,
  chordHeard,
  pinKey,
  pinNumeral,
  pinsAt,
  sound,
  stretchHeard,
  type Study,
} from '../../features/study/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import styles from './ChordHeading.module.css';
import { useNamedReason } from './named-reason.ts';

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** The chosen chord: what it is in its key and why, which time it is played, and how else it could be read. */
export function ChordHeading({ study }: { readonly study: Study }) {
  const { lesson, planned, name, passes } = study;
  const { analysed } = planned;
  const keyText = useKeyText();
  const named = useNamedReason();
  const { chord, reading, alternatives, played } = analysed;
  const hearSlot = () => stretchHeard(lesson, played.startTicks, played.endTicks);
  return (
    <div className={styles.heading}>
      <h2 id="study-chord" tabIndex={-1}>
        <ChordName chord={played.slot.chord} />{' '}
        {reading.numeral !== '' && (
          <span className={styles.reading}>
            {words.study.readAs(numeralText(reading.numeral), keyText(reading.key))}
          </span>
        )}
      </h2>
      <p className={styles.place}>
        {words.study.bar(played.playedBar.bar.number)}, {words.study.beat(played.beat)}
      </p>
      {passes > 1 && (
        <div role="group" aria-label={words.study.which} className={styles.passes}>
          {Array.from({ length: passes }, (_, index) => index + 1).map((pass) => (
            <button
              key={pass}
              type="button"
              aria-pressed={pass === name.pass}
              onClick={() => chooseSlot({ slot: name.slot, pass })}
            >
              {words.study.time(pass)}
            </button>
          ))}
        </div>
      )}
      <p className={styles.why}>{capital(typeset(wordsOfReason(named(reading.reason))))}.</p>
      {chord !== null && (
        <div className={styles.hear}>
          <button
            type="button"
            className="plain"
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => void sound(chordHeard(chord))}
            onKeyDown={onHearKey(() => chordHeard(chord))}
          >
            {words.study.hear} {words.study.hearThe.chord}
          </button>
          <button
            type="button"
            className="plain"
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => void sound(hearSlot())}
            onKeyDown={onHearKey(hearSlot)}
          >
            {words.study.hear} {words.study.hearThe.slot}
          </button>
        </div>
      )}
      {chord !== null && <OtherReadings study={study} alternatives={alternatives.map((each) => each.reading)} />}
    </div>
  );
}

const KEYS: readonly { readonly mode: string; readonly keys: readonly Key[] }[] = [
  { mode: 'major', keys: usualKeys('major') },
  { mode: 'minor', keys: usualKeys('minor') },
];

/** What the teacher may say instead: another numeral here, another key from here on. */
function OtherReadings({ study, alternatives }: { study: Study; alternatives: readonly Reading[] }) {
  const { name, planned, choices } = study;
  const keyText = useKeyText();
  const named = useNamedReason();
  const inForce = formatKey(planned.analysed.reading.key);
  const [asked, setAsked] = useState<string | null>(null);
  const key = asked ?? inForce;
  const pinned = pinsAt(choices.pins, name);
  // a reading that is chosen leaves the list, and a key that is pinned cannot be pinned again: the focus goes to the heading
  const toHeading = ({ currentTarget }: MouseEvent<HTMLElement>): void =>
    currentTarget.ownerDocument.getElementById('study-chord')?.focus();
  return (
    <details className={styles.other}>
      <summary>{words.study.readings}</summary>
      {alternatives.length > 0 && (
        <ul className={styles.readings}>
          {alternatives.map((each) => (
            <li key={`${each.numeral} ${formatKey(each.key)}`}>
              <button
                type="button"
                onClick={(event) => {
                  pinNumeral(name, each.numeral);
                  toHeading(event);
                }}
              >
                {words.study.readAs(numeralText(each.numeral), keyText(each.key))}
              </button>
              <span className="soft">{typeset(wordsOfReason(named(each.reason)))}</span>
            </li>
          ))}
        </ul>
      )}
      <div className={styles.key}>
        <label>
          {words.study.keyFromHere}{' '}
          <select value={key} onChange={(event) => setAsked(event.target.value)}>
            {KEYS.flatMap(({ keys }) => keys).some((each) => formatKey(each) === key) ? null : (
              <option value={key}>{typeset(key)}</option>
            )}
            {KEYS.map(({ mode, keys }) => (
              <optgroup key={mode} label={mode}>
                {keys.map((each) => (
                  <option key={formatKey(each)} value={formatKey(each)}>
                    {keyText(each)}
                  </option>
                ))}
              </optgroup>
            ))}
          </select>
        </label>
        <button
          type="button"
          disabled={pinned.key !== null && formatKey(pinned.key) === key}
          onClick={(event) => {
            const chosen = parseKey(key);
            if (chosen === undefined) return;
            pinKey(name, chosen);
            toHeading(event);
          }}
        >
          {words.study.pinKey}
        </button>
      </div>
    </details>
  );
}
