import {
  FASTEST_BPM,
  formatKey,
  MOST_PROGRAMME_CHORUSES,
  SLOWEST_BPM,
  TRIO_PLAYERS,
  usualKeys,
  type Key,
  type ProgrammeChorus,
  type TrioPlayer,
} from '@fivespan/core';
import { useId } from 'react';
import {
  $isProgrammeKept,
  $programme,
  changeProgramme,
  forgetProgramme,
  withChorus,
  withCopy,
  withMoved,
  withoutChorus,
} from '../../features/programme/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { NumberField } from './NumberField.tsx';
import styles from './ProgrammeTable.module.css';

/** What is played, chorus after chorus: kept with the lesson as soon as it is changed. */
export function ProgrammeTable() {
  const id = useId();
  const programme = useStore($programme);
  const isKept = useStore($isProgrammeKept);
  if (programme === null) return null;
  const { choruses } = programme;
  return (
    <section aria-labelledby={`${id}-programme`} className={styles.programme}>
      <h2 id={`${id}-programme`}>{words.play.programme}</h2>
      <p className="soft">
        {isKept ? words.play.programmeKept : words.play.programmeUsual}{' '}
        {isKept && (
          <button className="plain" onClick={forgetProgramme}>
            {words.play.usual}
          </button>
        )}
      </p>
      <table className={styles.table} aria-labelledby={`${id}-programme`}>
        <thead>
          <tr>
            <th scope="col">{words.play.columns.row}</th>
            <th scope="col">{words.play.columns.key}</th>
            <th scope="col">{words.play.columns.tempo}</th>
            <th scope="col">{words.play.columns.players}</th>
            <th scope="col">
              <span className="unseen">{words.play.columns.change}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {choruses.map((chorus, row) => (
            <ChorusRow key={row} chorus={chorus} row={row} rows={choruses.length} />
          ))}
        </tbody>
      </table>
      <p>
        <button
          disabled={choruses.length >= MOST_PROGRAMME_CHORUSES}
          onClick={() => changeProgramme((now) => withCopy(now, now.choruses.length - 1))}
        >
          {words.play.add}
        </button>
      </p>
    </section>
  );
}

interface RowProps {
  readonly chorus: ProgrammeChorus;
  readonly row: number;
  readonly rows: number;
}

function ChorusRow({ chorus: { key, tempoBpm, players }, row, rows }: RowProps) {
  const number = row + 1;
  const change = (next: Partial<ProgrammeChorus>, together?: string): void =>
    changeProgramme((now) => withChorus(now, row, next), together);
  const toggle = (player: TrioPlayer): void => {
    const next = TRIO_PLAYERS.filter((each) => (each === player ? !players.includes(each) : players.includes(each)));
    // someone must play
    if (next.length > 0) change({ players: next });
  };
  return (
    <tr>
      <th scope="row">{number}</th>
      <td>
        <KeySelect label={words.play.rowKey(number)} value={key} onChange={(next) => change({ key: next })} />
      </td>
      <td>
        <NumberField
          label={words.play.rowTempo(number)}
          value={tempoBpm}
          least={SLOWEST_BPM}
          most={FASTEST_BPM}
          onChange={(next) => change({ tempoBpm: next }, `tempo of chorus ${row}`)}
        />
      </td>
      <td>
        <span className={styles.players}>
          {TRIO_PLAYERS.map((player) => (
            <label key={player}>
              <input
                type="checkbox"
                aria-label={words.play.rowPlayer(number, words.play.playerNames[player])}
                checked={players.includes(player)}
                onChange={() => toggle(player)}
              />
              {words.play.playerNames[player]}
            </label>
          ))}
        </span>
      </td>
      <td>
        <span className={styles.change}>
          <button
            className="plain"
            aria-label={words.play.up(number)}
            disabled={row === 0}
            onClick={() => changeProgramme((now) => withMoved(now, row, -1))}
          >
            ↑
          </button>
          <button
            className="plain"
            aria-label={words.play.down(number)}
            disabled={row === rows - 1}
            onClick={() => changeProgramme((now) => withMoved(now, row, 1))}
          >
            ↓
          </button>
          <button
            className="plain"
            aria-label={words.play.copy(number)}
            disabled={rows >= MOST_PROGRAMME_CHORUSES}
            onClick={() => changeProgramme((now) => withCopy(now, row))}
          >
            ×2
          </button>
          <button
            className="plain"
            aria-label={words.play.remove(number)}
            disabled={rows === 1}
            onClick={() => changeProgramme((now) => withoutChorus(now, row))}
          >
            −
          </button>
        </span>
      </td>
    </tr>
  );
}

/** The twelve keys of a key's mode, that key itself as it is written. */
export function KeySelect({
  label,
  value,
  onChange,
}: {
  readonly label: string;
  readonly value: Key;
  readonly onChange: (key: Key) => void;
}) {
  const keyText = useKeyText();
  const usual = usualKeys(value.mode);
  const isUsual = usual.some((key) => formatKey(key) === formatKey(value));
  const keys = isUsual ? usual : [value, ...usual];
  return (
    <select
      aria-label={label}
      value={formatKey(value)}
      onChange={({ target }) => {
        const chosen = keys.find((key) => formatKey(key) === target.value);
        if (chosen !== undefined) onChange(chosen);
      }}
    >
      {keys.map((key) => (
        <option key={formatKey(key)} value={formatKey(key)}>
          {keyText(key)}
        </option>
      ))}
    </select>
  );
}
