import {
  beatsOf,
  formatKey,
  formatMeter,
  parseKey,
  readMeter,
  typeset,
  type HeaderName,
  type Issue,
} from '@fivespan/core';
import { useId } from 'react';
import { $keyNow, $page, keysToChoose, writeHeading } from '../../features/chart-editing/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './ChartHeading.module.css';
import { DraftField } from './DraftField.tsx';
import { FaultNote } from './FaultNote.tsx';

const w = words.chart;

/** Time signatures one is likely to want; any other can be written in the text. Common practice. */
export const METERS = ['4/4', '3/4', '2/4', '5/4', '6/4', '7/4', '2/2', '6/8', '7/8', '9/8', '12/8'];

/** All keys by mode, for a list to choose from. */
export function KeyOptions() {
  return (['major', 'minor'] as const).map((mode) => (
    <optgroup key={mode} label={mode}>
      {keysToChoose(mode).map((key) => (
        <option key={formatKey(key)} value={formatKey(key)}>
          {typeset(formatKey(key))}
        </option>
      ))}
    </optgroup>
  ));
}

/** What the chart says above its first bar, each to be changed where it stands. */
export function ChartHeading() {
  const open = useStore($open);
  const { places, otherIssues, bars } = useStore($page);
  const keyNow = useStore($keyNow);
  const id = useId();
  if (open === null) return null;
  const headings = places.headers.filter(({ barsBefore }) => barsBefore === 0);
  const textOf = (name: HeaderName): string => headings.find(({ header }) => header === name)?.text ?? '';
  const { lineStarts } = places;
  /** What is wrong with a heading: what stands on its line. */
  const issuesOf = (name: HeaderName): Issue[] => {
    const lines = headings
      .filter(({ header }) => header === name)
      .map(({ line }) => lineStarts.indexOf(line.start) + 1);
    return otherIssues.filter(({ place }) => place.line !== undefined && lines.includes(place.line));
  };
  const described = (name: HeaderName) => {
    const isFaulty = issuesOf(name).length > 0;
    return { 'aria-invalid': isFaulty || undefined, 'aria-describedby': isFaulty ? `${id}-${name}` : undefined };
  };
  const meter = open.chart?.meter ?? readMeter(textOf('meter')) ?? { count: 4, unit: 4 };
  const meterText = textOf('meter');
  const read = readMeter(meterText);
  const meterValue = read === undefined ? (meterText === '' ? formatMeter(meter) : meterText) : formatMeter(read);
  const keyText = textOf('key');
  const key = parseKey(keyText);
  const keyValue = key === undefined ? keyText : formatKey(key);
  const keys = [...keysToChoose('major'), ...keysToChoose('minor')].map(formatKey);
  const found = keyNow !== null && !keyNow.isStated ? w.keyFound(typeset(formatKey(keyNow.key))) : w.keyToFind;
  const pickup = textOf('pickup');
  const beats = beatsOf(meter);
  const pickups = Array.from({ length: Math.max(1, beats) }, (_, index) => String(index));
  const faulty = (['title', 'key', 'tempo', 'meter', 'feel', 'pickup'] as const).filter(
    (name) => issuesOf(name).length > 0,
  );
  return (
    <fieldset className={styles.heading}>
      <legend className="unseen">{w.headings}</legend>
      <label className={`${styles.field} ${styles.title}`}>
        {w.name}
        <DraftField
          value={textOf('title')}
          maxLength={200}
          write={(value) => writeHeading('title', value)}
          {...described('title')}
        />
      </label>
      <label className={styles.field}>
        {w.key}
        <select
          value={keyValue}
          onChange={(event) => writeHeading('key', event.currentTarget.value)}
          {...described('key')}
        >
          <option value="">{found}</option>
          {keyValue !== '' && !keys.includes(keyValue) && (
            <option value={keyValue}>{key === undefined ? w.asWritten(keyValue) : typeset(keyValue)}</option>
          )}
          <KeyOptions />
        </select>
      </label>
      <label className={styles.field}>
        {w.tempo}
        <DraftField
          className={styles.tempo}
          value={textOf('tempo')}
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
          value={meterValue}
          onChange={(event) => writeHeading('meter', event.currentTarget.value)}
          {...described('meter')}
        >
          {!METERS.includes(meterValue) && <option value={meterValue}>{w.asWritten(meterValue)}</option>}
          {METERS.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </select>
      </label>
      <label className={styles.field}>
        {w.feel}
        <select
          value={open.chart?.feel ?? (textOf('feel').toLowerCase() === 'even' ? 'even' : 'swing')}
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
      {bars.length > 0 && (
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
      {faulty.map((name) => (
        <div key={name} className={styles.faults}>
          <FaultNote issues={issuesOf(name)} id={`${id}-${name}`} />
        </div>
      ))}
    </fieldset>
  );
}
