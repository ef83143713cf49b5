import { formatKey, parseKey, type HeaderName } from '@fivespan/core';
import { memo, useId } from 'react';
import { $heading, keysToChoose, writeHeading } from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './ChartHeading.module.css';
import { DraftField } from './DraftField.tsx';
import { FaultNote } from './FaultNote.tsx';

const w = words.chart;

/** Time signatures one is likely to want; any other can be written in the text. Common practice. */
export const METERS = ['4/4', '3/4', '2/4', '5/4', '6/4', '7/4', '2/2', '6/8', '7/8', '9/8', '12/8'];

/** All keys by mode, for a list to choose from. */
export const KeyOptions = memo(function KeyOptions() {
  const keyText = useKeyText();
  return (['major', 'minor'] as const).map((mode) => (
    <optgroup key={mode} label={w.modes[mode]}>
      {keysToChoose(mode).map((key) => (
        <option key={formatKey(key)} value={formatKey(key)}>
          {keyText(key)}
        </option>
      ))}
    </optgroup>
  ));
});

/** What the chart says above its first bar, each to be changed where it stands. */
export const ChartHeading = memo(function ChartHeading() {
  const heading = useStore($heading);
  const keyText = useKeyText();
  const id = useId();
  if (heading === null) return null;
  const { keyFound, pickup, faults } = heading;
  const described = (name: HeaderName) => {
    const isFaulty = faults.some((each) => each.name === name);
    return { 'aria-invalid': isFaulty || undefined, 'aria-describedby': isFaulty ? `${id}-${name}` : undefined };
  };
  const keys = [...keysToChoose('major'), ...keysToChoose('minor')].map(formatKey);
  const keyRead = heading.isKeyRead ? parseKey(heading.key) : undefined;
  const found = keyFound === null ? w.keyToFind : w.keyFound(keyText(keyFound));
  const pickups = Array.from({ length: Math.max(1, heading.beats) }, (_, index) => String(index));
  return (
    <fieldset className={styles.heading}>
      <legend className="unseen">{w.headings}</legend>
      <label className={`${styles.field} ${styles.title}`}>
        {w.name}
        <DraftField
          value={heading.title}
          maxLength={200}
          write={(value) => writeHeading('title', value)}
          {...described('title')}
        />
      </label>
      <label className={styles.field}>
        {w.key}
        <select
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
      </label>
      <label className={styles.field}>
        {w.tempo}
        <DraftField
          className={styles.tempo}
          value={heading.tempo}
          inputMode="numeric"
          placeholder="120"
          title={w.beatsAMinute}
          write={(value) => writeHeading('tempo', value)}
          {...described('tempo')}
        />
      </label>
      <label className={styles.field}>
        {w.meter}
        <select
          value={heading.meter}
          onChange={(event) => writeHeading('meter', event.currentTarget.value)}
          {...described('meter')}
        >
          {!METERS.includes(heading.meter) && <option value={heading.meter}>{w.asWritten(heading.meter)}</option>}
          {METERS.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </select>
      </label>
      <label className={styles.field}>
        {w.feel}
        <select
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
      </label>
      {heading.hasBars && (
        <label className={styles.field}>
          {w.pickup}
          <select
            value={pickup === '' ? '0' : pickup}
            onChange={(event) =>
              writeHeading('pickup', event.currentTarget.value === '0' ? '' : event.currentTarget.value)
            }
            {...described('pickup')}
          >
            {pickup !== '' && !pickups.includes(pickup) && <option value={pickup}>{w.asWritten(pickup)}</option>}
            {pickups.map((each) => (
              <option key={each} value={each}>
                {w.pickups(Number(each))}
              </option>
            ))}
          </select>
        </label>
      )}
      {faults.map(({ name, issues }) => (
        <div key={name} className={styles.faults}>
          <FaultNote issues={issues} id={`${id}-${name}`} />
        </div>
      ))}
    </fieldset>
  );
});
