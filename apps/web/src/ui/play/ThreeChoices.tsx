import { formatKey, inTurn, keysAlong, type Key, type Programme } from '@fivespan/core';
import { $piece, $practice, changePractice, FASTEST_RATE, SLOWEST_RATE } from '../../features/playing/index.ts';
import {
  $programme,
  changeProgramme,
  RIGHT_HANDS,
  rightHandOf,
  withRightHand,
  type RightHand,
} from '../../features/programme/index.ts';
import { useId } from 'react';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './ThreeChoices.module.css';

const w = words.play;
const RATE_STEP = 0.05;

/** Which keys a programme goes through, as far as there is a word for it. */
function keysOf({ choruses }: Programme): 'one' | 'all' | 'own' {
  const names = new Set(choruses.map(({ key }) => formatKey(key)));
  if (names.size === 1) return 'one';
  const first = choruses[0]?.key;
  const round = first === undefined ? [] : keysAlong(first, 'fourths');
  const isRound =
    choruses.length === round.length &&
    choruses.every(({ key }, row) => formatKey(key) === formatKey(round[row] as Key));
  return isRound ? 'all' : 'own';
}

/** What one chooses each time: how fast, which keys, who plays the right hand. All else is below. */
export function ThreeChoices() {
  const id = useId();
  const programme = useStore($programme);
  const piece = useStore($piece);
  const { rate } = useStore($practice);
  const keyText = useKeyText();
  const first = programme?.choruses[0];
  if (programme === null || first === undefined) return null;
  const keys = keysOf(programme);
  const rightHand = rightHandOf(programme);
  const percent = Math.round(rate * 100);
  const tempoBpm = piece?.segments[0]?.tempoBpm ?? first.tempoBpm;
  const { players } = first;
  return (
    <div className={styles.choices} role="group" aria-label={w.choices}>
      <p>
        <span className={styles.head}>
          <label htmlFor={`${id}-tempo`}>{w.tempo}</label>
          <output htmlFor={`${id}-tempo`} className={styles.tempo}>
            {w.tempoValue(percent, Math.round(tempoBpm * rate))}
          </output>
        </span>
        <input
          id={`${id}-tempo`}
          type="range"
          min={SLOWEST_RATE}
          max={FASTEST_RATE}
          step={RATE_STEP}
          value={rate}
          aria-valuetext={w.tempoValue(percent, Math.round(tempoBpm * rate))}
          onChange={({ target }) => changePractice({ rate: Number(target.value) })}
        />
      </p>
      <p>
        <label htmlFor={`${id}-keys`}>{w.keys}</label>
        <select
          id={`${id}-keys`}
          value={keys}
          onChange={({ target }) => {
            const chosen = target.value === 'all' ? keysAlong(first.key, 'fourths') : [first.key];
            const choruses = inTurn({
              keys: chosen,
              tempi: [first.tempoBpm],
              choruses: target.value === 'all' ? 1 : 3,
              players,
            });
            changeProgramme((now) => ({ ...now, choruses }));
          }}
        >
          <option value="one">{w.keysOne(keyText(first.key))}</option>
          <option value="all">{w.keysAll(keyText(first.key))}</option>
          {keys === 'own' && <option value="own">{w.keysOwn}</option>}
        </select>
      </p>
      <p>
        <label htmlFor={`${id}-right`}>{w.rightHand}</label>
        <select
          id={`${id}-right`}
          value={rightHand ?? 'own'}
          onChange={({ target }) => changeProgramme((now) => withRightHand(now, target.value as RightHand))}
        >
          {RIGHT_HANDS.map((each) => (
            <option key={each} value={each}>
              {w.rightHands[each]}
            </option>
          ))}
          {rightHand === null && <option value="own">{w.rightHandOwn}</option>}
        </select>
      </p>
    </div>
  );
}
