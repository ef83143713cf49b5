import { formatKey, keysAlong, KEY_CYCLES, type Key, type KeyCycle } from '@fivespan/core';
import { useId, useState } from 'react';
import { changeLesson } from '../../features/open-lesson/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './Panel.module.css';

type KeysKind = 'own' | 'cycle' | 'chosen';

const isSame = (one: readonly Key[], other: readonly Key[]): boolean =>
  one.length === other.length && one.every((key, index) => formatKey(key) === formatKey(other[index] as Key));

/** The cycle a list of keys goes along, from the tune's own key; undefined where it goes along none. */
function cycleOf(own: Key, keys: readonly Key[]): KeyCycle | undefined {
  return KEY_CYCLES.find((cycle) => isSame(keysAlong(own, cycle), keys));
}

/** Which keys a lesson is handed out in: kept with the lesson. */
export function KeysField({ own, keys }: { readonly own: Key; readonly keys: readonly Key[] }) {
  const id = useId();
  const keyText = useKeyText();
  const found = cycleOf(own, keys);
  const [isChoosing, setChoosing] = useState(false);
  const kind: KeysKind = isChoosing ? 'chosen' : keys.length === 0 ? 'own' : found === undefined ? 'chosen' : 'cycle';
  const cycle = found ?? 'fourths';
  const choose = (chosen: readonly Key[]): void => changeLesson({ choices: { keys: chosen }, together: 'keys' });
  const all = keysAlong(own, 'fourths');
  const has = (key: Key): boolean => keys.some((each) => formatKey(each) === formatKey(key));
  const toggle = (key: Key): void => {
    const next = all.filter((each) => (formatKey(each) === formatKey(key) ? !has(key) : has(each)));
    choose(next);
  };
  const radio = (each: KeysKind, label: string, pick: () => void) => (
    <label className={styles.option}>
      <input type="radio" name={`${id}-keys`} checked={kind === each} onChange={pick} />
      <span>{label}</span>
    </label>
  );
  return (
    <fieldset>
      <legend>{words.pages.keys}</legend>
      {radio('own', words.pages.keysOwn(keyText(own)), () => {
        setChoosing(false);
        choose([]);
      })}
      {radio('cycle', words.pages.keysCycle, () => {
        setChoosing(false);
        choose(keysAlong(own, cycle));
      })}
      {kind === 'cycle' && (
        <p className={styles.inset}>
          <label htmlFor={`${id}-cycle`}>{words.pages.cycle}</label>{' '}
          <select
            id={`${id}-cycle`}
            value={cycle}
            onChange={(event) => choose(keysAlong(own, event.target.value as KeyCycle))}
          >
            {KEY_CYCLES.map((each) => (
              <option key={each} value={each}>
                {words.pages.cycles[each]}
              </option>
            ))}
          </select>
        </p>
      )}
      {radio('chosen', words.pages.keysChosen, () => setChoosing(true))}
      {kind === 'chosen' && (
        <div className={styles.keys}>
          {all.map((key) => (
            <label key={formatKey(key)} className={styles.short}>
              <input type="checkbox" checked={has(key)} onChange={() => toggle(key)} />
              {keyText(key)}
            </label>
          ))}
        </div>
      )}
    </fieldset>
  );
}
