import { useEffect, useState } from 'react';
import { judge, type TakeBar, type TakeRecord } from '../../features/takes/index.ts';
import { dayText } from '../lessons/moment-text.ts';
import { useKeyName } from '../today/use-key-name.ts';
import { words } from '../words/index.ts';
import styles from './Takes.module.css';

const w = words.takes;

/** So many takes are looked at side by side: the last ones. */
const MOST_TAKES = 12;

type BarKind = keyof typeof w.overTimeKinds;

/** What became of a bar in all choruses of a take. */
function kindOf(bars: readonly TakeBar[]): BarKind {
  const slots = bars.flatMap((bar) => bar.slots.filter(({ kind }) => kind !== 'nothing'));
  const outside = slots.filter(({ kind }) => kind === 'outside').length;
  if (bars.some(({ hanging }) => hanging > 0)) return 'hanging';
  if (slots.length === 0) return 'nothing';
  return outside === 0 ? 'found' : outside === slots.length ? 'outside' : 'part';
}

function Sign({ kind }: { readonly kind: BarKind }) {
  return (
    <svg
      viewBox="0 0 18 18"
      width="18"
      height="18"
      aria-hidden="true"
      fill="none"
      stroke="currentColor"
      strokeWidth="1.5"
    >
      {kind === 'outside' ? (
        <path d="M4 4L14 14M14 4L4 14" strokeWidth="2.4" />
      ) : (
        <>
          <circle cx="9" cy="8" r="5.25" fill={kind === 'found' || kind === 'hanging' ? 'currentColor' : 'none'} />
          {kind === 'part' && <path d="M9 2.75A5.25 5.25 0 0 0 9 13.25Z" fill="currentColor" />}
          {kind === 'hanging' && <path d="M9 15Q14 18 17 13" />}
        </>
      )}
    </svg>
  );
}

/** The same bars in take after take, oldest first; and the tempo reached in each key. */
export function TakesOverTime({ takes }: { readonly takes: readonly TakeRecord[] }) {
  const [isOpen, setIsOpen] = useState(false);
  const keyName = useKeyName();
  const kept = takes.filter(({ state }) => state === 'kept');
  if (kept.length < 2) return null;
  const fastest = new Map<string, number>();
  for (const { key, tempoBpm } of kept) fastest.set(key, Math.max(tempoBpm, fastest.get(key) ?? 0));
  return (
    <details onToggle={({ currentTarget }) => setIsOpen(currentTarget.open)}>
      <summary>{w.overTime}</summary>
      {isOpen && (
        <div className={styles.over}>
          <p>
            {w.tempoByKey}: {[...fastest].map(([key, tempoBpm]) => w.tempoIn(keyName(key), tempoBpm)).join(', ')}
          </p>
          <ol aria-label={w.overTime}>
            {kept
              .slice(0, MOST_TAKES)
              .toReversed()
              .map((record) => (
                <Take key={record.id} record={record} />
              ))}
          </ol>
          <p className="soft">{w.overTimeLegend}</p>
        </div>
      )}
    </details>
  );
}

function Take({ record }: { readonly record: TakeRecord }) {
  const [bars, setBars] = useState<readonly TakeBar[]>([]);
  const keyName = useKeyName();
  const { take } = record;
  useEffect(() => {
    const ended = new AbortController();
    judge(take, ended.signal, 'soon').then(
      (judged) => setBars(judged.kind === 'judged' ? judged.view.bars : []),
      () => undefined,
    );
    return () => ended.abort(new DOMException('no longer shown', 'AbortError'));
  }, [take]);
  const numbers = [...new Set(bars.map(({ number }) => number))].toSorted((a, b) => a - b);
  return (
    <li data-over-time={record.id}>
      <span>
        {dayText(record.at)}, {w.tempoIn(keyName(record.key), record.tempoBpm)}
      </span>
      <ol className={styles.signs}>
        {numbers.map((number) => {
          const kind = kindOf(bars.filter((bar) => bar.number === number));
          return (
            <li key={number}>
              <span aria-hidden="true">{number}</span>
              <Sign kind={kind} />
              <span className="unseen">{w.overTimeBar(number, w.overTimeKinds[kind])}</span>
            </li>
          );
        })}
      </ol>
    </li>
  );
}
