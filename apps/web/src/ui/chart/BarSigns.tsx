import { parseKey, readMeter, typeset, type Jump, type MarkName } from '@fivespan/core';
import {
  $page,
  beginEnding,
  beginRepeat,
  endRepeat,
  putJump,
  putMark,
  writeKey,
  writeMeter,
  writeSection,
  type BarToolsView,
} from '../../features/chart-editing/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './BarSigns.module.css';
import { KeyOptions, METERS } from './choices.tsx';
import { DraftField } from './DraftField.tsx';
import { PickupPlace } from './PickupPlace.tsx';
import { Place, SignSwitch } from './Place.tsx';
import { Mark, RepeatSign } from './Signs.tsx';

const w = words.chart.bar;

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
const BEFORE: readonly MarkName[] = ['segno', 'coda'];
const AFTER: readonly MarkName[] = ['to coda', 'fine'];

/** The bar drawn large, a place for each sign where it stands: what begins the bar on its left, what ends it on its right. */
export function BarSigns({ bar }: { readonly bar: BarToolsView }) {
  return (
    <div className={styles.signs}>
      <div className={styles.begin}>
        <SectionPlace bar={bar} />
        {BEFORE.map((mark) => (
          <MarkSwitch key={mark} bar={bar} mark={mark} />
        ))}
        <EndingPlace bar={bar} />
      </div>
      <div className={styles.end}>
        {AFTER.map((mark) => (
          <MarkSwitch key={mark} bar={bar} mark={mark} />
        ))}
        <JumpPlace bar={bar} />
      </div>
      <div className={styles.left}>
        <SignSwitch
          label={w.repeatStart}
          sign={<RepeatSign edge="start" />}
          word={w.repeatWord}
          isSet={bar.startsRepeat}
          onChange={(isSet) => beginRepeat(bar.index, isSet)}
        />
        {bar.index === 0 ? (
          <PickupPlace />
        ) : (
          <>
            <KeyPlace bar={bar} />
            <MeterPlace bar={bar} />
          </>
        )}
      </div>
      <Chords index={bar.index} />
      <div className={styles.right}>
        {bar.endsRepeatTimes > 0 && <TimesPlace bar={bar} />}
        <SignSwitch
          label={w.repeatEnd}
          sign={<RepeatSign edge="end" />}
          word={w.repeatWord}
          isSet={bar.endsRepeatTimes > 0}
          onChange={(isSet) => endRepeat(bar.index, isSet ? 2 : null)}
        />
      </div>
    </div>
  );
}

/** The bar's chords, so that one sees which bar this is. */
function Chords({ index }: { readonly index: number }) {
  const bar = useStore($page).bars[index];
  return (
    <div className={styles.chords} aria-hidden="true">
      {bar?.faultyWords !== null || bar.isRepeated
        ? null
        : bar.chords.map(({ chord, goesOn }, place) => (
            <span key={place}>{goesOn ? '/' : <ChordName chord={chord} step="large" />}</span>
          ))}
    </div>
  );
}

interface BarProps {
  readonly bar: BarToolsView;
}

function MarkSwitch({ bar, mark }: BarProps & { readonly mark: MarkName }) {
  const hasWord = mark === 'segno' || mark === 'coda';
  return (
    <SignSwitch
      label={w.mark[mark]}
      sign={<Mark mark={mark} />}
      {...(hasWord ? { word: w.mark[mark] } : {})}
      isSet={bar.marks.includes(mark)}
      onChange={(isSet) => putMark(bar.index, mark, isSet)}
    />
  );
}

function SectionPlace({ bar }: BarProps) {
  return (
    <Place label={w.section} isSet={bar.sectionName !== ''} sign={w.sectionWord}>
      <DraftField
        key={`section ${bar.index}`}
        aria-label={w.section}
        value={bar.sectionName}
        placeholder={w.sectionHint}
        maxLength={80}
        write={(value) => writeSection(bar.index, value)}
      />
    </Place>
  );
}

function EndingPlace({ bar }: BarProps) {
  const ending = bar.endingStarts.join('.');
  return (
    <Place
      label={w.ending}
      isSet={ending !== ''}
      sign={ending === '' ? '1.' : w.endings(bar.endingStarts)}
      word={w.endingWord}
    >
      <select
        aria-label={w.ending}
        value={ending}
        onChange={({ currentTarget: { value } }) =>
          beginEnding(bar.index, value === '' ? [] : value.split('.').map(Number))
        }
      >
        <option value="">{w.noEnding}</option>
        {ENDINGS.map((numbers) => (
          <option key={numbers.join('.')} value={numbers.join('.')}>
            {w.endings(numbers)}
          </option>
        ))}
        {ending !== '' && !ENDINGS.some((numbers) => numbers.join('.') === ending) && (
          <option value={ending}>{w.endings(bar.endingStarts)}</option>
        )}
      </select>
    </Place>
  );
}

function JumpPlace({ bar }: BarProps) {
  return (
    <Place label={w.jump} isSet={bar.jump !== null} sign={bar.jump ?? w.jumpSign} word={w.jumpWord}>
      <select
        aria-label={w.jump}
        value={bar.jump ?? ''}
        onChange={({ currentTarget: { value } }) =>
          putJump(bar.index, JUMPS.find(([name]) => name === value)?.[1] ?? null)
        }
      >
        <option value="">{w.noJump}</option>
        {JUMPS.map(([name]) => (
          <option key={name}>{name}</option>
        ))}
      </select>
    </Place>
  );
}

function KeyPlace({ bar }: BarProps) {
  return (
    <Place label={w.key} isSet={bar.key !== null} sign={bar.key === null ? w.keyWord : typeset(bar.key)}>
      <select
        aria-label={w.key}
        value={bar.key ?? ''}
        onChange={(event) => writeKey(bar.index, parseKey(event.currentTarget.value) ?? null)}
      >
        <option value="">{w.keyBefore}</option>
        <KeyOptions />
      </select>
    </Place>
  );
}

function MeterPlace({ bar }: BarProps) {
  return (
    <Place label={w.meter} isSet={bar.isMeterWritten} sign={bar.meter} word={w.meterWord}>
      <select
        aria-label={w.meter}
        value={bar.isMeterWritten ? bar.meter : ''}
        onChange={(event) => writeMeter(bar.index, readMeter(event.currentTarget.value) ?? null)}
      >
        <option value="">{w.meterBefore(bar.meterBefore)}</option>
        {bar.isMeterWritten && !METERS.includes(bar.meter) && <option>{bar.meter}</option>}
        {METERS.map((each) => (
          <option key={each}>{each}</option>
        ))}
      </select>
    </Place>
  );
}

function TimesPlace({ bar }: BarProps) {
  const { endsRepeatTimes } = bar;
  return (
    <Place label={w.repeatTimes} isSet sign={w.times(endsRepeatTimes)}>
      <select
        aria-label={w.repeatTimes}
        value={endsRepeatTimes}
        onChange={(event) => endRepeat(bar.index, Number(event.currentTarget.value))}
      >
        {Array.from({ length: Math.max(7, endsRepeatTimes - 1) }, (_, times) => times + 2).map((times) => (
          <option key={times} value={times}>
            {w.times(times)}
          </option>
        ))}
      </select>
    </Place>
  );
}
