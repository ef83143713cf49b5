import { DRILL_WORDS, formatKey, PRAISE_WORDS, typeset, wordsOfFinding, type Finding } from '@fivespan/core';
import { $settings } from '../../features/settings/index.ts';
import {
  $takes,
  $takeShown,
  $unwritten,
  FEWEST_NOTES,
  keepTake,
  playBack,
  playItAgain,
  remarkAt,
  startStep,
  stepOf,
  throwAway,
  type TakeRecord,
  type TakeStep,
  type TakeView,
} from '../../features/takes/index.ts';
import { momentText } from '../lessons/moment-text.ts';
import { useStore } from '../use-store.ts';
import { StateNote } from '../shell/StatePicture.tsx';
import { words } from '../words/index.ts';
import { SaveButton } from './SaveButton.tsx';
import { TakeStrip } from './TakeStrip.tsx';
import styles from './Takes.module.css';
import { useJudged } from './use-judged.ts';
import { useTakeName } from './use-take-name.ts';

const w = words.takes;

/** What went well is soon read: more would push down what is to be done. */
const MOST_PRAISE = 3;

function stepText(step: TakeStep): string {
  if (step.kind === 'loop') return w.loopStep(step.first, step.last, step.tempoBpm);
  if (step.kind === 'drill') return w.drillStep(DRILL_WORDS[step.drill].name, step.tempoBpm);
  return step.alone ? w.aloneStep(step.tempoBpm) : w.tempoStep(step.tempoBpm);
}

/** A take, just played or taken out again: what went well, what to work on, the chorus bar by bar. */
export function TakeScreen({ record }: { readonly record: TakeRecord }) {
  const judged = useJudged(record.take);
  const nameOf = useTakeName();
  // remarks and whether it is kept change while it is looked at
  const now = useStore($takes).find(({ id }) => id === record.id) ?? record;
  const isUnwritten = useStore($unwritten).has(record.id);
  const view = judged !== null && judged !== 'failed' && judged.kind === 'judged' ? judged.view : null;
  const [first] = view === null ? [] : view.workOn.map((finding) => stepOf(finding, view));
  return (
    <section className={styles.take} aria-label={nameOf(record)} data-take={record.id}>
      <header className={styles.head}>
        <h2>{nameOf(record)}</h2>
        <p className="soft">
          {momentText(record.at)}
          {view !== null && ` · ${w.about(view.choruses, view.notes)}`}
        </p>
      </header>
      <p role="status" className={judged === null ? undefined : 'unseen'}>
        {judged === null ? w.judging : ''}
      </p>
      {view?.keyAsked != null && <p>{w.playedIn(typeset(formatKey(view.key)), typeset(formatKey(view.keyAsked)))}</p>}
      {view?.hasOwnBeats === true && <p className="soft">{w.ownBeats}</p>}
      {judged !== null && view === null && (
        <StateNote state="stopped" role="alert">
          <p>{w.damaged}</p>
        </StateNote>
      )}
      {view !== null && <Remarks view={view} record={now} />}
      <div className={styles.acts}>
        {view !== null && first !== undefined && (
          <button className="main" data-step onClick={() => startStep(first, view, record.lessonId)}>
            {stepText(first)}
          </button>
        )}
        <button onClick={playItAgain}>{w.again}</button>
        {view !== null && <button onClick={() => playBack(record, view)}>{w.hear}</button>}
        {now.state !== 'kept' && <button onClick={() => void keepTake(now)}>{w.keep}</button>}
        <SaveButton record={record} />
        <button
          onClick={() => {
            void throwAway(record.id).then(() => $takeShown.set(null));
          }}
        >
          {w.throwAway}
        </button>
        <button className="plain" onClick={() => $takeShown.set(null)}>
          {w.back}
        </button>
        <p role="status" className="soft">
          {isUnwritten ? w.unwritten : now.state === 'kept' ? w.kept : w.notKept}
        </p>
      </div>
      {view !== null && (
        <TakeStrip
          view={view}
          remarks={now.remarks}
          take={record.take}
          onRemark={(bar, text) => void remarkAt(record.id, bar, text)}
        />
      )}
    </section>
  );
}

function Remarks({ view, record }: { readonly view: TakeView; readonly record: TakeRecord }) {
  const { wentWell, workOn, alsoSeen, notes } = view;
  const { takeWords } = useStore($settings);
  return (
    <>
      <div className={styles.two}>
        <div>
          <h3>{w.wentWell}</h3>
          <ul>
            {notes < FEWEST_NOTES && <li>{w.tooLittle}</li>}
            {wentWell.slice(0, MOST_PRAISE).map((code) => (
              <li key={code} data-went-well={code}>
                {takeWords[code]?.heard.trim() || PRAISE_WORDS[code]}
              </li>
            ))}
            {wentWell.length === 0 && notes >= FEWEST_NOTES && <li>{w.nothingWell}</li>}
          </ul>
        </div>
        <div>
          <h3>{w.workOn}</h3>
          <ul>
            {workOn.map((finding, index) => (
              <Work key={finding.code} finding={finding} view={view} lessonId={record.lessonId} isFirst={index === 0} />
            ))}
            {workOn.length === 0 && <li>{w.nothingToWork}</li>}
          </ul>
        </div>
      </div>
      {alsoSeen.length > 0 && (
        <p className="soft">
          {w.alsoSeen}:{' '}
          {alsoSeen.map((finding) => wordsOfFinding(finding, view.tempoBpm, takeWords[finding.code]).heard).join(' ')}
        </p>
      )}
    </>
  );
}

/** One thing to work on: what was heard, and the step; the first one's button is the screen's own. */
function Work({
  finding,
  view,
  lessonId,
  isFirst,
}: {
  readonly finding: Finding;
  readonly view: TakeView;
  readonly lessonId: string;
  readonly isFirst: boolean;
}) {
  const { takeWords } = useStore($settings);
  const { heard, step } = wordsOfFinding(finding, view.tempoBpm, takeWords[finding.code]);
  const started = stepOf(finding, view);
  return (
    <li data-work-on={finding.code}>
      {heard} <span className="soft">{step}</span>
      {!isFirst && (
        <>
          {' '}
          <button className={styles.second} onClick={() => startStep(started, view, lessonId)}>
            {stepText(started)}
          </button>
        </>
      )}
    </li>
  );
}
