import { useId, useState } from 'react';
import type { TakeBar, TakeView } from '../../features/takes/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { ThumbTab } from '../keyboard/ThumbTab.tsx';
import { useStore } from '../use-store.ts';
import { $settings } from '../../features/settings/index.ts';
import { words } from '../words/index.ts';
import { spokenChord } from '../words/spoken.ts';
import { useThumbText, type ThumbText } from '../words/thumb-name.ts';
import styles from './TakeStrip.module.css';
import { WriteDown } from './WriteDown.tsx';

const w = words.takes;

/**
 * Where a bar is called late or early. A soloist's beats lie behind by up to 30 to 40 ms (Nelias and others 2022; docs/sound.md), and
 * bars stray around that: late is what the remarks would call so too.
 */
const LATE_FROM_MS = 52;
const EARLY_FROM_MS = -30;

interface Remark {
  readonly bar: number;
  readonly text: string;
}

/** A bar as it is said. */
function barSaid(bar: TakeBar, thumbs: ThumbText, remark: string | undefined): string {
  const slots = bar.slots.map(({ kind, found, wanted }, index) => {
    const said = (called: typeof found): string => (called === null ? '' : thumbs.said(called.thumb, called.mark));
    const chord = bar.chords[index];
    return `${chord === undefined ? '' : `${spokenChord(chord)}: `}${w.slot[kind](said(found), said(wanted))}`;
  });
  const { lateMs, hanging } = bar;
  const time =
    lateMs === null
      ? ''
      : lateMs >= LATE_FROM_MS
        ? w.lateBy(lateMs)
        : lateMs <= EARLY_FROM_MS
          ? w.earlyBy(-lateMs)
          : w.onTime;
  return [
    w.bar(bar.number),
    ...slots,
    time,
    hanging === 0 ? '' : w.hangs(hanging),
    remark === undefined ? '' : `${w.remark}: ${remark}`,
  ]
    .filter((each) => each !== '')
    .join('; ');
}

/** The chorus as a strip: the barline is the beat, the diamond the hand. A bar that is chosen takes a remark. */
export function TakeStrip({
  view,
  remarks,
  take,
  onRemark,
}: {
  readonly view: TakeView;
  /** As core writes it: bars of it can be written down. */
  readonly take: string;
  readonly remarks: readonly Remark[];
  readonly onRemark: (bar: number, text: string) => void;
}) {
  const id = useId();
  const thumbs = useThumbText();
  const { noteNames } = useStore($settings);
  const [chosen, setChosen] = useState<TakeBar | null>(null);
  const worked = new Set(view.workOn[0]?.bars ?? []);
  const choruses = [...new Set(view.bars.map(({ chorus }) => chorus))];
  return (
    <section aria-labelledby={`${id}-strip`} className={styles.whole} data-names={noteNames}>
      <h3 id={`${id}-strip`} className="unseen">
        {w.strip}
      </h3>
      {choruses.map((chorus) => (
        <div key={chorus}>
          {choruses.length > 1 && <p className={styles.chorus}>{w.chorus(chorus)}</p>}
          <ol className={styles.strip} aria-label={choruses.length > 1 ? w.chorus(chorus) : w.strip}>
            {view.bars
              .filter((bar) => bar.chorus === chorus)
              .map((bar, index) => {
                const remark = remarks.find((each) => each.bar === bar.number)?.text;
                return (
                  <li key={index} className={styles.cell}>
                    <button
                      className={styles.bar}
                      aria-pressed={chosen === bar}
                      data-take-bar={bar.number}
                      data-worked={worked.has(bar.number) || undefined}
                      aria-label={barSaid(bar, thumbs, remark)}
                      onClick={() => setChosen(chosen === bar ? null : bar)}
                    >
                      <Bar bar={bar} thumbs={thumbs} hasRemark={remark !== undefined} />
                    </button>
                  </li>
                );
              })}
          </ol>
        </div>
      ))}
      {chosen === null ? (
        <p className="soft">{w.remarkHelp}</p>
      ) : (
        <div className={styles.chosen}>
          <RemarkForm
            key={`${chosen.number} remark`}
            bar={chosen.number}
            text={remarks.find((each) => each.bar === chosen.number)?.text ?? ''}
            onRemark={(text) => {
              onRemark(chosen.number, text);
              setChosen(null);
            }}
          />
          {chosen.place >= 0 && (
            <WriteDown key={`${chosen.chorus} ${chosen.number}`} view={view} take={take} from={chosen} />
          )}
        </div>
      )}
      {remarks.length > 0 && (
        <ul className={styles.remarks} aria-label={w.remarks}>
          {remarks.map(({ bar, text }) => (
            <li key={bar}>{w.remarkLine(bar, text)}</li>
          ))}
        </ul>
      )}
      <Legend />
    </section>
  );
}

function RemarkForm({
  bar,
  text,
  onRemark,
}: {
  readonly bar: number;
  readonly text: string;
  readonly onRemark: (text: string) => void;
}) {
  const [written, setWritten] = useState(text);
  return (
    <form
      className={styles.form}
      onSubmit={(event) => {
        event.preventDefault();
        onRemark(written);
      }}
    >
      <label>
        {w.remarkAt(bar)}
        <textarea
          // oxlint-disable-next-line jsx-a11y/no-autofocus -- a bar was chosen to write there
          autoFocus
          rows={2}
          maxLength={4000}
          value={written}
          onChange={({ target }) => setWritten(target.value)}
        />
      </label>
      <button type="submit">{w.remarkSave}</button>
    </form>
  );
}

function Bar({
  bar: { number, chords, isAsBefore, slots, hanging, lateMs, lateBeats },
  thumbs,
  hasRemark,
}: {
  readonly bar: TakeBar;
  readonly thumbs: ThumbText;
  readonly hasRemark: boolean;
}) {
  const percent = Math.round(lateBeats * 100);
  return (
    <>
      <span className={styles.number}>{number}</span>
      <span className={styles.chords}>
        {isAsBefore ? '𝄎' : chords.map((chord, place) => <ChordName key={place} chord={chord} />)}
      </span>
      {lateMs !== null && (
        <span className={styles.time}>
          {(lateMs >= LATE_FROM_MS || lateMs <= EARLY_FROM_MS) && (
            <>
              <span
                className={styles.hatched}
                style={percent < 0 ? { right: '100%', width: `${-percent}%` } : { left: 0, width: `${percent}%` }}
              />
              <span className={styles.word} style={{ left: `max(14px, ${percent + 10}%)` }}>
                {percent < 0 ? w.early : w.late}
              </span>
            </>
          )}
          <span className={styles.diamond} style={{ left: `${percent}%` }} />
        </span>
      )}
      <span className={styles.tabs}>
        {slots.map((slot, place) => (
          <Tab key={place} slot={slot} thumbs={thumbs} />
        ))}
      </span>
      {hanging > 0 && <Tie />}
      {hasRemark && <span className={styles.noted}>✎</span>}
    </>
  );
}

function Tab({
  slot: { kind, found, wanted },
  thumbs,
}: {
  readonly slot: TakeBar['slots'][number];
  readonly thumbs: ThumbText;
}) {
  const name = (called: typeof found): string => (called === null ? '' : thumbs.printed(called.thumb, called.mark));
  if (kind === 'nothing') return null;
  if (kind === 'outside') {
    return (
      <>
        <span className={styles.cross}>×</span>
        {wanted !== null && <ThumbTab name={name(wanted)} isWanted isLarge />}
      </>
    );
  }
  if (found === null) return null;
  return <ThumbTab name={name(found)} isHere={kind === 'as written'} isLarge />;
}

function Tie() {
  return (
    <svg className={styles.tie} viewBox="0 0 40 14" width="40" height="14" aria-hidden="true">
      <circle cx="4" cy="4" r="3.6" fill="currentColor" />
      <path d="M8 6C16 15 30 15 38 6C30 12 16 12 8 6z" fill="currentColor" />
    </svg>
  );
}

function Legend() {
  const l = w.legend;
  return (
    <p className={styles.legend}>
      <span>
        <ThumbTab name="G" isHere isLarge /> {l.found}
      </span>
      <span>
        <ThumbTab name="C" isLarge /> {l.family}
      </span>
      <span>
        <span className={styles.cross}>×</span> <ThumbTab name="E" isWanted isLarge /> {l.outside}
      </span>
      <span>
        <span className={styles.loose} aria-hidden="true" /> {l.hand}
      </span>
      <span>
        <Tie /> {l.hangs}
      </span>
      <span>✎ {l.remark}</span>
    </p>
  );
}
