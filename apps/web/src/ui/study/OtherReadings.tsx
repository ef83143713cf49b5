import { formatKey, parseKey, typeset, usualKeys, wordsOfReason, type Key } from '@fivespan/core';
import { numeralText } from '@fivespan/formats/diagram';
import { useState, type MouseEvent } from 'react';
import { pinKey, pinNumeral, pinsAt, type Study } from '../../features/study/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useNamedReason } from './named-reason.ts';
import styles from './OtherReadings.module.css';
import { TakeOff, usePinsHere } from './Pins.tsx';
import { PinSign } from './PinSign.tsx';

const KEYS: readonly { readonly mode: string; readonly keys: readonly Key[] }[] = [
  { mode: 'major', keys: usualKeys('major') },
  { mode: 'minor', keys: usualKeys('minor') },
];

/** What the teacher may say instead: another numeral here, another key from here on; and taking it back. */
export function OtherReadings({ study }: { readonly study: Study }) {
  const { name, planned, choices } = study;
  const { reading, alternatives } = planned.analysed;
  const keyText = useKeyText();
  const named = useNamedReason();
  const inForce = formatKey(reading.key);
  const [asked, setAsked] = useState<string | null>(null);
  const key = asked ?? inForce;
  const pinned = pinsAt(choices.pins, name);
  const pins = usePinsHere(study).filter(({ kind }) => kind === 'numeral' || kind === 'key');
  // a reading that is chosen leaves the list, and a key that is pinned cannot be pinned again: the focus goes to the heading
  const toHeading = ({ currentTarget }: MouseEvent<HTMLElement>): void =>
    currentTarget.ownerDocument.getElementById('study-chord')?.focus();
  return (
    <div className={styles.other} role="group" aria-label={words.study.readings}>
      <ul>
        {pins.map((pin) => (
          <li key={pin.kind}>
            <PinSign /> <span>{pin.what}</span> <TakeOff study={study} pin={pin} />
          </li>
        ))}
        {alternatives.map(({ reading: each }) => (
          <li key={`${each.numeral} ${formatKey(each.key)}`}>
            <button
              type="button"
              className="serif"
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
    </div>
  );
}
