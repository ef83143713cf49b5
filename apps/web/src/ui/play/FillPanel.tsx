import {
  FASTEST_BPM,
  inTurn,
  KEY_CYCLES,
  keysAlong,
  MOST_PROGRAMME_CHORUSES,
  SLOWEST_BPM,
  type Key,
  type KeyCycle,
} from '@fivespan/core';
import { useId, useState } from 'react';
import {
  $programme,
  changeProgramme,
  lengthMinutes,
  programmeFault,
  tempoLadder,
} from '../../features/programme/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { NumberField } from './NumberField.tsx';
import styles from './Panels.module.css';
import { KeySelect } from './ProgrammeTable.tsx';

interface Filling {
  readonly first: Key;
  readonly cycle: KeyCycle | null;
  readonly fromBpm: number;
  readonly toBpm: number;
  readonly stepBpm: number;
  readonly choruses: number;
}

const MOST_IN_EACH = 12;

/** Fills the table at one stroke: keys along a cycle, tempi up a ladder. */
export function FillPanel() {
  const id = useId();
  const programme = useStore($programme);
  const [chosen, setChosen] = useState<Partial<Filling>>({});
  const row = programme?.choruses[0];
  if (programme === null || row === undefined) return null;
  const filling: Filling = {
    first: row.key,
    cycle: 'fourths',
    fromBpm: row.tempoBpm,
    toBpm: row.tempoBpm,
    stepBpm: 10,
    choruses: 1,
    ...chosen,
  };
  const { first, cycle, fromBpm, toBpm, stepBpm, choruses } = filling;
  const filled = inTurn({
    keys: cycle === null ? [first] : keysAlong(first, cycle),
    tempi: tempoLadder(fromBpm, toBpm, stepBpm),
    choruses,
    players: row.players,
  });
  const replaced = { ...programme, choruses: filled };
  const fault = programmeFault(replaced);
  const change = (next: Partial<Filling>): void => setChosen({ ...chosen, ...next });
  return (
    <details>
      <summary>
        <h2 id={`${id}-fill`} style={{ display: 'inline' }}>
          {words.play.fill}
        </h2>
      </summary>
      <div className={`${styles.panel} ${styles.fields}`} role="group" aria-labelledby={`${id}-fill`}>
        <p className={styles.line}>
          <label>
            {words.play.fillKeys}{' '}
            <select
              value={cycle ?? ''}
              onChange={({ target }) => change({ cycle: KEY_CYCLES.find((each) => each === target.value) ?? null })}
            >
              <option value="">{words.play.fillOneKey}</option>
              {KEY_CYCLES.map((each) => (
                <option key={each} value={each}>
                  {words.play.cycles[each]}
                </option>
              ))}
            </select>
          </label>
          <span>
            {words.play.fillFrom}{' '}
            <KeySelect label={words.play.fillFrom} value={first} onChange={(key) => change({ first: key })} />
          </span>
        </p>
        <p className={styles.line}>
          <span>
            {words.play.fillTempo}{' '}
            <NumberField
              label={words.play.fillTempo}
              value={fromBpm}
              least={SLOWEST_BPM}
              most={FASTEST_BPM}
              onChange={(value) => change({ fromBpm: value })}
            />
          </span>
          <span>
            {words.play.fillTo}{' '}
            <NumberField
              label={words.play.fillTo}
              value={toBpm}
              least={SLOWEST_BPM}
              most={FASTEST_BPM}
              onChange={(value) => change({ toBpm: value })}
            />
          </span>
          <span>
            {words.play.fillStep}{' '}
            <NumberField
              label={words.play.fillStep}
              value={stepBpm}
              least={1}
              most={100}
              onChange={(value) => change({ stepBpm: value })}
            />
          </span>
        </p>
        <p className={styles.line}>
          <span>
            {words.play.fillChoruses}{' '}
            <NumberField
              label={words.play.fillChoruses}
              value={choruses}
              least={1}
              most={MOST_IN_EACH}
              onChange={(value) => change({ choruses: value })}
            />
          </span>
        </p>
        <p className={styles.line}>
          <button disabled={fault !== null} onClick={() => changeProgramme((now) => ({ ...now, choruses: filled }))}>
            {words.play.fillDo}
          </button>
          <span role="status">
            {fault === null
              ? words.play.fillMakes(filled.length, lengthMinutes(replaced) * 60)
              : words.play.fillFaults[fault](MOST_PROGRAMME_CHORUSES)}
          </span>
        </p>
      </div>
    </details>
  );
}
