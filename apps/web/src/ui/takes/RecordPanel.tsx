import { useEffect } from 'react';
import {
  $cutOff,
  $nothingPlayed,
  $recording,
  $records,
  $takeShown,
  keepTake,
  showTakes,
  switchRecording,
  throwAway,
} from '../../features/takes/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Takes.module.css';
import { useTakeName } from './use-take-name.ts';

const w = words.takes;

/** The switch, with what it records and where that is kept. */
export function RecordSwitch() {
  const records = useStore($records);
  return (
    <>
      <p>
        <label className={styles.switch}>
          <input type="checkbox" checked={records} onChange={({ target }) => switchRecording(target.checked)} />
          {w.record}
        </label>
      </p>
      <p className="soft">{w.recordAbout}</p>
    </>
  );
}

/** Beside Start: that one is recorded, where it is switched on; and a take that was cut off, offered once. */
export function RecordPanel() {
  const records = useStore($records);
  const nothingPlayed = useStore($nothingPlayed);
  const cutOff = useStore($cutOff);
  const nameOf = useTakeName();
  useEffect(() => void showTakes(), []);
  return (
    <div className={styles.record}>
      {records && <RecordSwitch />}
      <p role="status">{nothingPlayed && w.nothingPlayed}</p>
      {cutOff.map((record) => (
        <p key={record.id} role="alert" className={styles.line}>
          {w.cutOff(nameOf(record))}{' '}
          <button
            onClick={() => {
              void keepTake(record).then(() => $takeShown.set(record));
            }}
          >
            {w.keep}
          </button>
          <button onClick={() => void throwAway(record.id)}>{w.throwAway}</button>
        </p>
      ))}
    </div>
  );
}

/** While one plays: that it is recorded. It keeps its place whatever comes. */
export function RecordingSign() {
  const records = useStore($records);
  const recording = useStore($recording);
  if (!records) return null;
  return (
    <p className={styles.sign} data-recording={recording?.notes ?? 0}>
      <span className={styles.dot} aria-hidden="true" />
      {recording === null ? w.waitingForKey : recording.isUnwritten ? w.unwritten : w.recordingNotes(recording.notes)}
    </p>
  );
}
