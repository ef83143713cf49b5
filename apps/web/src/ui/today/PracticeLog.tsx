import { useEffect, useState } from 'react';
import {
  forgetEntries,
  keptEntries,
  saveLog,
  secondsByDay,
  tempoByKey,
  type LogEntry,
} from '../../features/today/index.ts';
import { words } from '../words/index.ts';
import styles from './Today.module.css';
import { useKeyName } from './use-key-name.ts';

const w = words.today;
/** Days in the picture. */
const DAYS = 14;
const WIDTH = 336;
const HEIGHT = 72;

/** What was practised: minutes by day as a picture, the fastest clean pass in each key, all of it as CSV. */
export function PracticeLog() {
  const [entries, setEntries] = useState<readonly LogEntry[]>([]);
  const keyName = useKeyName();
  useEffect(() => {
    void keptEntries().then(setEntries);
  }, []);
  const days = secondsByDay(entries).slice(-DAYS);
  const most = Math.max(60, ...days.map(({ seconds }) => seconds));
  const tempi = tempoByKey(entries);
  return (
    <details>
      <summary>{w.log}</summary>
      {days.length === 0 ? (
        <p className="soft">{w.logNone}</p>
      ) : (
        <>
          <svg
            className={styles.days}
            viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
            role="img"
            aria-label={`${w.logPicture}: ${days.map(({ day, seconds }) => w.logByDay(day, seconds)).join('; ')}`}
          >
            <path d={`M0 ${HEIGHT - 0.75}H${WIDTH}`} />
            {days.map(({ day, seconds }, index) => {
              const height = Math.max(2, (seconds / most) * (HEIGHT - 6));
              return <rect key={day} x={index * 24 + 4} y={HEIGHT - height} width={16} height={height} />;
            })}
          </svg>
          {tempi.length > 0 && (
            <p>
              {w.logTempi}: {tempi.map(({ key, tempoBpm }) => w.logTempo(keyName(key), tempoBpm)).join(', ')}
            </p>
          )}
          <p className={styles.line}>
            <button onClick={() => saveLog(entries, w.logFile)}>{w.logSave}</button>
            <button
              onClick={() => {
                void forgetEntries().then(() => setEntries([]));
              }}
            >
              {w.logForget}
            </button>
          </p>
          <p className="soft">{w.logAbout}</p>
        </>
      )}
    </details>
  );
}
