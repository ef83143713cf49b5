import { useState } from 'react';
import {
  drillThroughKeys,
  writeIntoLesson,
  type TakeBar,
  type TakeView,
  type WrittenInto,
} from '../../features/takes/index.ts';
import { words } from '../words/index.ts';
import styles from './TakeStrip.module.css';

const w = words.takes;

/** A phrase seldom lasts longer (docs/sources.md, 5). */
const LENGTHS = [1, 2, 4, 8] as const;

/** Bars of a take as notes: into the lesson, or as a drill. */
export function WriteDown({
  view,
  take,
  from,
}: {
  readonly view: TakeView;
  readonly take: string;
  readonly from: TakeBar;
}) {
  const [bars, setBars] = useState<number>(2);
  const [written, setWritten] = useState<WrittenInto | null>(null);
  const own = view.bars.filter(({ chorus, place }) => chorus === from.chorus && place >= from.place);
  const to = own[Math.min(bars, own.length) - 1] ?? from;
  const write = async (): Promise<WrittenInto> => {
    const now = await writeIntoLesson(take, from, to).catch((): WrittenInto => ({ kind: 'nothing' }));
    setWritten(now);
    return now;
  };
  return (
    <div role="group" aria-label={w.writeDown} className={styles.write}>
      <span>
        <strong>{w.writeDown}</strong> {w.writeFrom(from.number)}
      </span>
      <select aria-label={w.writeLabel} value={bars} onChange={({ target }) => setBars(Number(target.value))}>
        {LENGTHS.filter((each) => each <= Math.max(1, own.length)).map((each) => (
          <option key={each} value={each}>
            {w.writeBars(each)}
          </option>
        ))}
      </select>
      <button onClick={() => void write()}>{w.intoLesson}</button>
      <button
        onClick={async () => {
          // the drill plays what the lesson has there: it is written first
          if ((await write()).kind === 'written') drillThroughKeys(from, to);
        }}
      >
        {w.throughKeys}
      </button>
      <span role="status">
        {written !== null &&
          (written.kind === 'written' ? w.written(written.notes, written.leftOut) : w.writtenNot[written.kind])}
      </span>
    </div>
  );
}
