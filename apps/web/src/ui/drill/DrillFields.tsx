import {
  DRILL_KINDS,
  DRILL_WORDS,
  FASTEST_BPM,
  KEY_ROUNDS,
  LINE_RULES,
  SLOWEST_BPM,
  type Chart,
  type Choices,
  type Key,
} from '@fivespan/core';
import { useId } from 'react';
import { chooseDrill, lastBarOf, MOST_KEYS, type DrillChoice } from '../../features/drill/index.ts';
import { OneOf } from '../controls/OneOf.tsx';
import { NumberField } from '../play/NumberField.tsx';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './DrillPanel.module.css';

const w = words.drill;

/** Where a kept phrase is drilled. */
const PHRASE_PLACES = ['own chords', 'bars'] as const;

/** What is practised, over which bars, in which keys, at which tempi. */
export function DrillFields({
  choice,
  chart,
  choices,
  home,
}: {
  readonly choice: DrillChoice;
  readonly chart: Chart;
  readonly choices: Choices;
  /** The key the lesson is shown in. */
  readonly home: Key;
}) {
  const id = useId();
  const keyText = useKeyText();
  const { kind, fromBar, round } = choice;
  const phrases = choices.phrases.filter(({ part }) => LINE_RULES[part].inPosition);
  const isSameLine = kind === 'same-line';
  const isPhrase = isSameLine && choice.phrase !== null;
  const leavesOwnOut = !isSameLine && choices.pins.parts.notes.some(({ part }) => LINE_RULES[part].inPosition);
  const { sentence, listenFor } = DRILL_WORDS[kind];
  const last = lastBarOf(chart);
  const change = (next: Parameters<typeof chooseDrill>[1]): void => chooseDrill(choice, next);
  const numbers = (
    field: 'fromBar' | 'toBar' | 'keyCount' | 'fromBpm' | 'toBpm',
    label: string,
    least: number,
    most: number,
  ) => (
    <label>
      {label}{' '}
      <NumberField
        label={label}
        value={choice[field]}
        least={least}
        most={most}
        onChange={(value) => change({ [field]: value })}
      />
    </label>
  );
  return (
    <>
      <p>
        <label htmlFor={`${id}-kind`}>{w.kind}</label>
        <select
          id={`${id}-kind`}
          className={styles.kind}
          value={kind}
          aria-describedby={`${id}-sentence`}
          onChange={({ target }) => change({ kind: DRILL_KINDS.find((each) => each === target.value) ?? kind })}
        >
          {DRILL_KINDS.map((each) => (
            <option key={each} value={each}>
              {DRILL_WORDS[each].name}
            </option>
          ))}
        </select>
      </p>
      <p id={`${id}-sentence`} className="soft">
        {sentence} {w.listenFor(listenFor)} {leavesOwnOut && w.ownLeftOut}
      </p>
      {isSameLine && (phrases.length > 0 || isPhrase) && (
        <p>
          <label>
            {w.line}{' '}
            <select
              value={choice.phrase ?? ''}
              onChange={({ target }) => change({ phrase: target.value === '' ? null : target.value })}
            >
              <option value="">{w.chorusLine}</option>
              {phrases.map(({ name }) => (
                <option key={name} value={name}>
                  {w.phrase(name)}
                </option>
              ))}
            </select>
          </label>
        </p>
      )}
      {isPhrase && (
        <OneOf
          label={w.phraseOver}
          choices={PHRASE_PLACES}
          textOf={(each) => w.phrasePlaces[each]}
          value={choice.isPhraseOverBars ? 'bars' : 'own chords'}
          onChange={(place) => change({ isPhraseOverBars: place === 'bars' })}
        />
      )}
      {(!isPhrase || choice.isPhraseOverBars) && (
        <p className={styles.line}>
          {numbers('fromBar', w.fromBar, 1, last)}
          {numbers('toBar', w.toBar, fromBar, last)}
        </p>
      )}
      <p className={styles.line}>
        <label>
          {w.keys}{' '}
          <select
            value={round ?? ''}
            onChange={({ target }) => change({ round: KEY_ROUNDS.find((each) => each === target.value) ?? null })}
          >
            <option value="">{w.oneKey(keyText(home))}</option>
            {KEY_ROUNDS.map((each) => (
              <option key={each} value={each}>
                {w.rounds[each]}
              </option>
            ))}
          </select>
        </label>
        {round !== null && numbers('keyCount', w.keyCount, 1, MOST_KEYS)}
      </p>
      <p className={styles.line}>
        {numbers('fromBpm', w.fromTempo, SLOWEST_BPM, FASTEST_BPM)}
        {numbers('toBpm', w.toTempo, SLOWEST_BPM, FASTEST_BPM)}
      </p>
      <p className="soft">{w.tempoAbout}</p>
    </>
  );
}
