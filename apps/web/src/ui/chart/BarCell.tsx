import { typeset } from '@fivespan/core';
import { numeralText } from '@fivespan/formats/diagram';
import { memo } from 'react';
import { writeDraft, type BarEdit, type BarView } from '../../features/chart-editing/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { words } from '../words/index.ts';
import { spokenChord, spokenNumeral, spokenSigns } from '../words/spoken.ts';
import styles from './BarCell.module.css';
import { FaultNote } from './FaultNote.tsx';
import { Mark } from './Signs.tsx';

const w = words.chart;

/** A bar in words, for those who hear it. */
function spokenBar(bar: BarView): string {
  const { spoken } = w;
  const parts = [
    w.barOf(bar.number),
    ...(bar.key === null ? [] : [spoken.key(spokenSigns(typeset(bar.key)))]),
    ...(bar.meter === null ? [] : [spoken.metre(bar.meter)]),
    ...(bar.startsRepeat ? [spoken.repeatBegins] : []),
    ...(bar.endingStarts.length === 0 ? [] : [spoken.ending(bar.endingStarts.join(', '))]),
    ...bar.marksBefore,
  ];
  if (bar.faultyWords !== null) {
    for (const word of bar.faultyWords) parts.push(word.isFaulty ? spoken.faulty(word.text) : word.text);
  } else if (bar.isRepeated) parts.push(spoken.asBefore);
  else {
    for (const { chord, numeral, goesOn } of bar.chords) {
      const name = chord.kind === 'chord' ? spokenChord(chord) : w.nobody;
      parts.push(
        [name, ...(goesOn ? [spoken.goesOn] : []), ...(numeral === '' ? [] : [spokenNumeral(numeral)])].join(', '),
      );
    }
  }
  parts.push(...bar.marksAfter, ...(bar.jump === null ? [] : [bar.jump]));
  if (bar.endsRepeatTimes > 0) parts.push(spoken.repeatEnds(bar.endsRepeatTimes));
  if (bar.issues.length > 0) parts.push(spoken.faults(bar.issues.length));
  return parts.join(', ');
}

/** The sign of a bar that repeats the one before. */
function AsBefore() {
  return (
    <span className={styles.asBefore} aria-hidden="true">
      𝄎
    </span>
  );
}

function Chords({ bar }: { readonly bar: BarView }) {
  if (bar.faultyWords !== null) {
    return (
      <span className={styles.chords}>
        {bar.faultyWords.map((word, index) => (
          <span key={index} className={word.isFaulty ? styles.faulty : undefined}>
            {typeset(word.text)}
            {word.isFaulty && <span className={styles.cross}>✕</span>}
          </span>
        ))}
      </span>
    );
  }
  if (bar.isRepeated) return <AsBefore />;
  return (
    <span className={styles.chords}>
      {bar.chords.map(({ chord, ticks, numeral, goesOn }, index) => (
        <span key={index} className={styles.chord} style={{ flexGrow: ticks }}>
          {goesOn ? <span className={styles.goesOn}>/</span> : <ChordName chord={chord} step="large" />}
          <span className={`numeral ${styles.numeral}`}>{goesOn ? '\u00A0' : numeralText(numeral) || '\u00A0'}</span>
        </span>
      ))}
    </span>
  );
}

function Dots() {
  return (
    <span className={styles.dots} aria-hidden="true">
      <i />
      <i />
    </span>
  );
}

/** A bar: its chords, or the field to write them, with the signs round it. */
export const BarCell = memo(function BarCell({
  bar,
  isCurrent,
  edit,
}: {
  readonly bar: BarView;
  readonly isCurrent: boolean;
  readonly edit: BarEdit | null;
}) {
  const faultId = `bar-${bar.index}-fault`;
  const isFaulty = bar.issues.length > 0 || edit?.isKeptBack === true;
  const signs = [
    bar.number === 0 ? styles.pickup : '',
    bar.startsRepeat ? styles.startsRepeat : '',
    bar.endsRepeatTimes > 0 ? styles.endsRepeat : '',
    bar.isDoubleAfter ? styles.doubleAfter : '',
    bar.endsChart ? styles.endsChart : '',
    bar.isInEnding ? styles.inEnding : '',
    bar.endingStarts.length > 0 ? styles.startsEnding : '',
    bar.endsEnding ? styles.endsEnding : '',
    edit === null ? '' : styles.written,
    bar.issues.length > 0 ? styles.isFaulty : '',
  ];
  return (
    <div
      role="gridcell"
      className={`${styles.bar} ${signs.filter((each) => each !== '').join(' ')}`}
      data-bar={bar.index}
      tabIndex={isCurrent && edit === null ? 0 : -1}
      aria-label={spokenBar(bar)}
      aria-describedby={isFaulty ? faultId : undefined}
      aria-invalid={isFaulty || undefined}
    >
      <span className={styles.above}>
        {bar.number > 0 && <span className={styles.number}>{bar.number}</span>}
        {bar.endingStarts.length > 0 && (
          <span className={styles.ending}>{bar.endingStarts.map((each) => `${each}.`).join(' ')}</span>
        )}
        {bar.marksBefore.map((mark) => (
          <span key={mark} className={styles.mark}>
            <Mark mark={mark} />
          </span>
        ))}
        {bar.key !== null && <span className={styles.change}>{typeset(bar.key)}</span>}
        {bar.meter !== null && <span className={styles.change}>{bar.meter}</span>}
      </span>
      <span className={styles.middle}>
        {bar.startsRepeat && <Dots />}
        {edit === null ? (
          <Chords bar={bar} />
        ) : (
          <ChordField edit={edit} label={w.chordsOf(bar.number)} faultId={isFaulty ? faultId : undefined} />
        )}
        {bar.endsRepeatTimes > 0 && (
          <span className={styles.repeatEnd} aria-hidden="true">
            {bar.endsRepeatTimes > 2 && <span className={styles.times}>{w.played(bar.endsRepeatTimes)}</span>}
            <Dots />
          </span>
        )}
      </span>
      {(bar.marksAfter.length > 0 || bar.jump !== null) && (
        <span className={styles.below}>
          {bar.marksAfter.map((mark) => (
            <Mark key={mark} mark={mark} />
          ))}
          {bar.jump !== null && <span>{bar.jump}</span>}
        </span>
      )}
      {isFaulty && (
        <span className={edit === null ? styles.faults : styles.faultsOver}>
          {edit?.isKeptBack === true ? (
            <span id={faultId}>✕ {w.keptBack}</span>
          ) : (
            <FaultNote issues={bar.issues} id={faultId} canTake />
          )}
        </span>
      )}
    </div>
  );
});

/** The field a bar becomes while it is written. */
export function ChordField({
  edit,
  label,
  faultId,
}: {
  readonly edit: BarEdit;
  readonly label: string;
  readonly faultId?: string | undefined;
}) {
  return (
    <input
      className={styles.field}
      aria-label={label}
      aria-describedby={faultId}
      aria-invalid={faultId !== undefined || undefined}
      value={edit.draft}
      placeholder={w.nobody}
      autoComplete="off"
      autoCorrect="off"
      autoCapitalize="characters"
      spellCheck={false}
      enterKeyHint="next"
      onChange={(event) => writeDraft(event.currentTarget.value)}
    />
  );
}
