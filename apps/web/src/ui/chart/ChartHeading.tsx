import { formatKey, parseKey, type HeaderName } from '@fivespan/core';
import { memo, useId } from 'react';
import { $heading, keysToChoose, writeHeading } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './ChartHeading.module.css';
import { KeyOptions, METERS } from './choices.tsx';
import { DraftField, WrappedField } from './DraftField.tsx';
import { FaultNote } from './FaultNote.tsx';

const w = words.chart;

/** What the chart says above its first bar, as a sentence of which each part is changed where it stands. */
export const ChartHeading = memo(function ChartHeading() {
  const heading = useStore($heading);
  const keyText = useKeyText();
  const id = useId();
  if (heading === null) return null;
  const { keyFound, faults } = heading;
  const described = (name: HeaderName) => {
    const isFaulty = faults.some((each) => each.name === name);
    return { 'aria-invalid': isFaulty || undefined, 'aria-describedby': isFaulty ? `${id}-${name}` : undefined };
  };
  const keys = [...keysToChoose('major'), ...keysToChoose('minor')].map(formatKey);
  const keyRead = heading.isKeyRead ? parseKey(heading.key) : undefined;
  const found = keyFound === null ? w.keyToFind : w.keyFound(keyText(keyFound));
  return (
    <fieldset className={styles.heading}>
      <legend className="unseen">{w.headings}</legend>
      <WrappedField
        className={styles.title}
        aria-label={w.name}
        value={heading.title}
        maxLength={200}
        placeholder={w.noName}
        write={(value) => writeHeading('title', value)}
        {...described('title')}
      />
      <span className={styles.sentence}>
        {w.sentence.in}{' '}
        <select
          aria-label={w.key}
          title={w.key}
          value={heading.key}
          onChange={(event) => writeHeading('key', event.currentTarget.value)}
          {...described('key')}
        >
          <option value="">{found}</option>
          {heading.key !== '' && !keys.includes(heading.key) && (
            <option value={heading.key}>{keyRead === undefined ? w.asWritten(heading.key) : keyText(keyRead)}</option>
          )}
          <KeyOptions />
        </select>
        ,{' '}
        <select
          aria-label={w.meter}
          title={w.meter}
          value={heading.meter}
          onChange={(event) => writeHeading('meter', event.currentTarget.value)}
          {...described('meter')}
        >
          {!METERS.includes(heading.meter) && <option value={heading.meter}>{w.asWritten(heading.meter)}</option>}
          {METERS.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </select>
        ,{' '}
        <span className={styles.equation}>
          ♩ ={' '}
          <DraftField
            aria-label={w.tempo}
            className={styles.tempo}
            value={heading.tempo}
            inputMode="numeric"
            placeholder="120"
            title={w.beatsAMinute}
            write={(value) => writeHeading('tempo', value)}
            {...described('tempo')}
          />
        </span>
        ,{' '}
        <select
          aria-label={w.feel}
          title={w.feel}
          value={heading.feel}
          onChange={(event) => writeHeading('feel', event.currentTarget.value)}
          {...described('feel')}
        >
          {(['swing', 'even'] as const).map((each) => (
            <option key={each} value={each}>
              {w.feels[each]}
            </option>
          ))}
        </select>
      </span>
      {faults.map(({ name, issues }) => (
        <div key={name} className={styles.faults}>
          <FaultNote issues={issues} id={`${id}-${name}`} />
        </div>
      ))}
    </fieldset>
  );
});
