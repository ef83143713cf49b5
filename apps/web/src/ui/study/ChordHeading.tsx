import { typeset, wordsOfReason } from '@fivespan/core';
import { numeralText } from '@fivespan/formats/diagram';
import { useState } from 'react';
import { chartView, chordHeard, sound, stretchHeard, type Study } from '../../features/study/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { SoundSign } from '../controls/SoundSign.tsx';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './ChordHeading.module.css';
import { HEAR_KEY, onHearKey } from './hear-key.ts';
import { useNamedReason } from './named-reason.ts';
import { OtherReadings } from './OtherReadings.tsx';

/** The chosen chord: what it is in its key and why, and how else it could be read. */
export function ChordHeading({ study }: { readonly study: Study }) {
  const { lesson, planned, choices, name } = study;
  const { analysed } = planned;
  const keyText = useKeyText();
  const named = useNamedReason();
  const [isAsked, setIsAsked] = useState(false);
  const { chord, reading, played } = analysed;
  const hearSlot = () => stretchHeard(lesson, played.startTicks, played.endTicks);
  return (
    <div className={styles.heading}>
      <div className={styles.name}>
        <h2 id="study-chord" tabIndex={-1}>
          <ChordName chord={played.slot.chord} step="large" />
        </h2>
        <span className={styles.place}>
          {words.study.bar(played.playedBar.bar.number)}
          {played.beat > 1 && `, ${words.study.beat(played.beat)}`}
        </span>
        {chord !== null && (
          <button
            type="button"
            className="plain"
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => void sound(hearSlot())}
            onKeyDown={onHearKey(hearSlot)}
          >
            {words.study.hear} {words.study.hearThe.slot}
          </button>
        )}
      </div>
      <p className={styles.role}>
        {reading.numeral !== '' && `${words.study.readAs(numeralText(reading.numeral), keyText(reading.key))}: `}
        {typeset(wordsOfReason(named(reading.reason)))}.
        <Figures study={study} pass={name.pass} pins={choices.pins} />
      </p>
      {chord !== null && (
        <div className={styles.hear}>
          <button
            type="button"
            aria-keyshortcuts={HEAR_KEY}
            onClick={() => void sound(chordHeard(chord))}
            onKeyDown={onHearKey(() => chordHeard(chord))}
          >
            <SoundSign /> {words.study.hear} {words.study.hearThe.chord}
          </button>
          <button type="button" className="plain" aria-expanded={isAsked} onClick={() => setIsAsked(!isAsked)}>
            {words.study.readings}
          </button>
        </div>
      )}
      {chord !== null && isAsked && <OtherReadings study={study} />}
    </div>
  );
}

/** What the chord makes together with its neighbours, and the form it is part of. */
function Figures({ study, pass, pins }: { study: Study; pass: number; pins: Study['choices']['pins'] }) {
  const keyText = useKeyText();
  const view = chartView(study.lesson, pins, pass);
  const own = view.sections
    .flatMap(({ bars }) => bars.flatMap(({ slots }) => slots))
    .find(({ name }) => name.slot === study.name.slot);
  const figures = [...(own?.figures ?? []), ...view.forms];
  if (figures.length === 0) return null;
  return (
    <span className={styles.figures}>
      {' '}
      {words.study.isPartOf(figures.map(({ kind, key }) => words.study.figureTo(kind, keyText(key))))}
    </span>
  );
}
