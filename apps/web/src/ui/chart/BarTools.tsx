import { parseKey, readMeter, type Jump, type MarkName } from '@fivespan/core';
import { memo, useState } from 'react';
import {
  $barTools,
  askForFocus,
  beginEnding,
  beginRepeat,
  endRepeat,
  newBarAfter,
  newBarBefore,
  putJump,
  putMark,
  takeBarOut,
  writeKey,
  writeMeter,
  writeSection,
} from '../../features/chart-editing/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './BarTools.module.css';
import { KeyOptions, METERS } from './ChartHeading.tsx';
import { DraftField } from './DraftField.tsx';
import { Mark } from './Signs.tsx';

const w = words.chart;

/** Endings that can be chosen: each alone, and the first ones together. */
const ENDINGS: readonly (readonly number[])[] = [[1], [2], [3], [4], [1, 2], [1, 2, 3]];
const JUMPS: readonly (readonly [string, Jump])[] = [
  ['D.C.', { kind: 'da capo', until: 'end' }],
  ['D.C. al fine', { kind: 'da capo', until: 'fine' }],
  ['D.C. al coda', { kind: 'da capo', until: 'coda' }],
  ['D.S.', { kind: 'dal segno', until: 'end' }],
  ['D.S. al fine', { kind: 'dal segno', until: 'fine' }],
  ['D.S. al coda', { kind: 'dal segno', until: 'coda' }],
];
const MARKS: readonly MarkName[] = ['segno', 'to coda', 'coda', 'fine'];

/** What can be done to the chosen bar beside its chords. */
export const BarTools = memo(function BarTools({ say }: { readonly say: (text: string) => void }) {
  const bar = useStore($barTools);
  const [isOpen, setIsOpen] = useState(false);
  if (bar === null) {
    return (
      <section className={styles.tools} aria-label={w.bar.newTools} data-open="true">
        <h2 className={styles.name}>{w.bar.newTools}</h2>
        <p className="soft">{w.bar.newHint}</p>
      </section>
    );
  }
  const { index } = bar;
  const ending = bar.endingStarts.join('.');
  return (
    <section className={styles.tools} aria-label={w.bar.tools(w.barOf(bar.number))} data-open={isOpen}>
      <div className={styles.top}>
        <h2 className={styles.name}>{w.barOf(bar.number)}</h2>
        <button type="button" className={styles.opener} aria-expanded={isOpen} onClick={() => setIsOpen(!isOpen)}>
          {isOpen ? w.bar.less : w.bar.more}
        </button>
      </div>
      <p className={styles.buttons}>
        <button
          type="button"
          onClick={() => {
            newBarBefore(index);
            askForFocus();
            say(w.said.barIn);
          }}
        >
          {w.bar.before}
        </button>
        <button
          type="button"
          onClick={() => {
            newBarAfter(index);
            askForFocus();
            say(w.said.barIn);
          }}
        >
          {w.bar.after}
        </button>
        <button
          type="button"
          onClick={() => {
            takeBarOut(index);
            say(w.said.barOut);
          }}
        >
          {w.bar.remove}
        </button>
      </p>
      <div className={styles.more}>
        <label className={styles.line}>
          <span>{w.bar.section}</span>
          <DraftField
            key={`section ${index}`}
            className={styles.short}
            value={bar.sectionName}
            placeholder={w.bar.sectionHint}
            maxLength={80}
            write={(value) => writeSection(index, value)}
          />
        </label>
        <label className={styles.check}>
          <input
            type="checkbox"
            checked={bar.startsRepeat}
            onChange={(event) => beginRepeat(index, event.currentTarget.checked)}
          />
          {w.bar.repeatStart}
        </label>
        <div className={styles.line}>
          <label className={styles.check}>
            <input
              type="checkbox"
              checked={bar.endsRepeatTimes > 0}
              onChange={(event) => endRepeat(index, event.currentTarget.checked ? 2 : null)}
            />
            {w.bar.repeatEnd}
          </label>
          {bar.endsRepeatTimes > 0 && (
            <select
              aria-label={w.bar.repeatTimes}
              value={bar.endsRepeatTimes}
              onChange={(event) => endRepeat(index, Number(event.currentTarget.value))}
            >
              {Array.from({ length: Math.max(7, bar.endsRepeatTimes - 1) }, (_, times) => times + 2).map((times) => (
                <option key={times} value={times}>
                  {w.bar.times(times)}
                </option>
              ))}
            </select>
          )}
        </div>
        <label className={styles.line}>
          <span>{w.bar.ending}</span>
          <select
            value={ending}
            onChange={(event) =>
              beginEnding(
                index,
                event.currentTarget.value === '' ? [] : event.currentTarget.value.split('.').map(Number),
              )
            }
          >
            <option value="">{w.bar.noEnding}</option>
            {ENDINGS.map((numbers) => (
              <option key={numbers.join('.')} value={numbers.join('.')}>
                {w.bar.endings(numbers)}
              </option>
            ))}
            {ending !== '' && !ENDINGS.some((numbers) => numbers.join('.') === ending) && (
              <option value={ending}>{w.bar.endings(bar.endingStarts)}</option>
            )}
          </select>
        </label>
        {index > 0 && (
          <>
            <label className={styles.line}>
              <span>{w.bar.meter}</span>
              <select
                value={bar.isMeterWritten ? bar.meter : ''}
                onChange={(event) => writeMeter(index, readMeter(event.currentTarget.value) ?? null)}
              >
                <option value="">{w.bar.meterBefore(bar.meterBefore)}</option>
                {bar.isMeterWritten && !METERS.includes(bar.meter) && <option>{bar.meter}</option>}
                {METERS.map((each) => (
                  <option key={each}>{each}</option>
                ))}
              </select>
            </label>
            <label className={styles.line}>
              <span>{w.bar.key}</span>
              <select
                value={bar.key ?? ''}
                onChange={(event) => writeKey(index, parseKey(event.currentTarget.value) ?? null)}
              >
                <option value="">{w.bar.keyBefore}</option>
                <KeyOptions />
              </select>
            </label>
          </>
        )}
        <fieldset className={styles.marks}>
          <legend>{w.bar.marks}</legend>
          {MARKS.map((mark) => (
            <label key={mark} className={styles.check}>
              <input
                type="checkbox"
                checked={bar.marks.includes(mark)}
                onChange={(event) => putMark(index, mark, event.currentTarget.checked)}
              />
              <Mark mark={mark} />
            </label>
          ))}
        </fieldset>
        <label className={styles.line}>
          <span>{w.bar.jump}</span>
          <select
            value={bar.jump ?? ''}
            onChange={(event) => {
              const { value } = event.currentTarget;
              putJump(index, JUMPS.find(([name]) => name === value)?.[1] ?? null);
            }}
          >
            <option value="">{w.bar.noJump}</option>
            {JUMPS.map(([name]) => (
              <option key={name}>{name}</option>
            ))}
          </select>
        </label>
      </div>
    </section>
  );
});
