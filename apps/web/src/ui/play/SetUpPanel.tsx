import { MOST_COUNT_IN_BARS, MOST_REST_BARS, type Answers, type PracticeAids, type Programme } from '@fivespan/core';
import { useId } from 'react';
import { $open, changeLesson } from '../../features/open-lesson/index.ts';
import { $programme, changeProgramme, rightHandOf, withRightHand } from '../../features/programme/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { NumberField } from './NumberField.tsx';
import styles from './Panels.module.css';

/** A choice among a few, by their words. */
function Choice<Each extends string>({
  label,
  texts,
  value,
  onChange,
}: {
  readonly label: string;
  readonly texts: Readonly<Record<Each, string>>;
  readonly value: Each;
  readonly onChange: (value: Each) => void;
}) {
  return (
    <p className={styles.line}>
      <label>
        {label}{' '}
        <select value={value} onChange={({ target }) => onChange(target.value as Each)}>
          {(Object.keys(texts) as Each[]).map((each) => (
            <option key={each} value={each}>
              {texts[each]}
            </option>
          ))}
        </select>
      </label>
    </p>
  );
}

/** Time to answer in needs a demonstration: where the right hand was the student's alone, it comes in. */
function withAnswers(programme: Programme, answers: Answers): Programme {
  const isMine = answers !== 'none' && rightHandOf(programme) === 'mine';
  const shown = isMine ? withRightHand(programme, 'answered') : programme;
  return { ...shown, aids: { ...shown.aids, answers } };
}

/** What holds for the whole programme. */
export function SetUpPanel() {
  const id = useId();
  const programme = useStore($programme);
  const open = useStore($open);
  if (programme === null || open === null) return null;
  const { bass, comping } = open.choices;
  const { setUp, swing, voicings, countInBars, aids } = programme;
  const changeAids = (change: Partial<PracticeAids>, together?: string): void =>
    changeProgramme((now) => ({ ...now, aids: { ...now.aids, ...change } }), together);
  return (
    <details>
      <summary>
        <h2 id={`${id}-set-up`} style={{ display: 'inline' }}>
          {words.play.setUp}
        </h2>
      </summary>
      <div className={`${styles.panel} ${styles.fields}`} role="group" aria-labelledby={`${id}-set-up`}>
        <Choice
          label={words.play.setUpLabel}
          texts={words.play.setUps}
          value={setUp}
          onChange={(next) => changeProgramme((now) => ({ ...now, setUp: next }))}
        />
        <Choice
          label={words.play.voicingsLabel}
          texts={words.play.voicings}
          value={voicings}
          onChange={(next) => changeProgramme((now) => ({ ...now, voicings: next }))}
        />
        <Choice
          label={words.play.compingLabel}
          texts={words.play.compings}
          value={comping}
          onChange={(next) => changeLesson({ choices: { comping: next } })}
        />
        <Choice
          label={words.play.bassFeelLabel}
          texts={words.play.bassFeels}
          value={bass.feel ?? 'own'}
          onChange={(feel) => changeLesson({ choices: { bass: { ...bass, feel: feel === 'own' ? null : feel } } })}
        />
        <Choice
          label={words.play.bassRangeLabel}
          texts={words.play.bassRanges}
          value={bass.range}
          onChange={(range) => changeLesson({ choices: { bass: { ...bass, range } } })}
        />
        <Choice
          label={words.play.swingLabel}
          texts={words.play.swings}
          value={swing}
          onChange={(next) => changeProgramme((now) => ({ ...now, swing: next }))}
        />
        <Choice
          label={words.play.metronomeLabel}
          texts={words.play.metronomes}
          value={aids.metronome}
          onChange={(metronome) => changeAids({ metronome })}
        />
        <Choice
          label={words.play.answersLabel}
          texts={words.play.answers}
          value={aids.answers}
          onChange={(answers) => changeProgramme((now) => withAnswers(now, answers))}
        />
        <p className={styles.line}>
          <span>
            {words.play.restLabel}{' '}
            <NumberField
              label={words.play.restLabel}
              value={aids.restBars}
              least={0}
              most={MOST_REST_BARS}
              onChange={(restBars) => changeAids({ restBars }, 'rest')}
            />
          </span>
        </p>
        <p className={styles.line}>
          <span>
            {words.play.countInLabel}{' '}
            <NumberField
              label={words.play.countInLabel}
              value={countInBars}
              least={0}
              most={MOST_COUNT_IN_BARS}
              onChange={(next) => changeProgramme((now) => ({ ...now, countInBars: next }), 'count-in')}
            />
          </span>
        </p>
      </div>
    </details>
  );
}
