import {
  PLAY_PAGES,
  NAMED_HANDS,
  NARROWEST_SPAN_MM,
  nextSeed,
  WIDEST_SPAN_MM,
  type Choices,
  type HandSize,
} from '@fivespan/core';
import { useId, useState } from 'react';
import { $open, changeLesson } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Panel.module.css';

const LEVELS = [1, 2, 3, 4] as const;
/** Where a measured hand begins: the medium one's span. */
const FIRST_SPAN_MM = 227;

/** What of a lesson is chosen as a whole: level, hand, which chorus. Every change is kept and can be undone. */
export function ChoicesPanel() {
  const open = useStore($open);
  const id = useId();
  if (open === null) return null;
  const { choices } = open;
  const change = (part: Partial<Choices>): void => changeLesson({ choices: part });
  return (
    <div className={styles.fields}>
      <fieldset>
        <legend>{words.pages.level}</legend>
        {LEVELS.map((level) => (
          <label key={level} className={styles.option}>
            <input
              type="radio"
              name={`${id}-level`}
              checked={choices.level === level}
              onChange={() => change({ level })}
            />
            <span>
              {words.pages.levels[level].name}
              <small>{words.pages.levels[level].about}</small>
            </span>
          </label>
        ))}
      </fieldset>
      <HandField hand={choices.hand} onChange={(hand) => change({ hand })} />
      <fieldset>
        <legend>{words.pages.playPage}</legend>
        <div className={styles.row}>
          {PLAY_PAGES.map((each) => (
            <label key={each} className={styles.short}>
              <input
                type="radio"
                name={`${id}-play-page`}
                checked={choices.playPage === each}
                onChange={() => change({ playPage: each })}
              />
              {words.play.way[each]}
            </label>
          ))}
        </div>
      </fieldset>
      <fieldset>
        <legend>{words.pages.chorus}</legend>
        <p className={styles.line}>
          <output>{words.pages.chorusNumber(choices.seed)}</output>
          <button onClick={() => change({ seed: nextSeed(choices.seed) })}>{words.pages.anotherChorus}</button>
          <button disabled={choices.seed === 0} onClick={() => change({ seed: choices.seed - 1 })}>
            {words.pages.chorusBefore}
          </button>
        </p>
      </fieldset>
    </div>
  );
}

function HandField({ hand, onChange }: { readonly hand: HandSize; readonly onChange: (hand: HandSize) => void }) {
  const id = useId();
  const spanMm = typeof hand === 'string' ? null : hand.spanMm;
  return (
    <fieldset>
      <legend>{words.pages.hand}</legend>
      <div className={styles.row}>
        {NAMED_HANDS.map((each) => (
          <label key={each} className={styles.short}>
            <input type="radio" name={`${id}-hand`} checked={hand === each} onChange={() => onChange(each)} />
            {words.pages.hands[each]}
          </label>
        ))}
        <label className={styles.short}>
          <input
            type="radio"
            name={`${id}-hand`}
            checked={spanMm !== null}
            onChange={() => onChange({ spanMm: FIRST_SPAN_MM })}
          />
          {words.pages.hands.measured}
        </label>
      </div>
      {spanMm !== null && <SpanField key={spanMm} spanMm={spanMm} onChange={(span) => onChange({ spanMm: span })} />}
    </fieldset>
  );
}

/** A number is taken when the field is left or Enter is pressed, not while it is typed. */
function SpanField({ spanMm, onChange }: { readonly spanMm: number; readonly onChange: (spanMm: number) => void }) {
  const id = useId();
  const [text, setText] = useState(String(spanMm));
  const number = Number(text);
  const isRight = /^\d+$/u.test(text) && number >= NARROWEST_SPAN_MM && number <= WIDEST_SPAN_MM;
  const take = (): void => {
    if (isRight && number !== spanMm) onChange(number);
  };
  return (
    <>
      <label htmlFor={id}>{words.pages.spanMm}</label>{' '}
      <input
        id={id}
        className={styles.number}
        inputMode="numeric"
        value={text}
        aria-invalid={!isRight}
        aria-describedby={`${id}-range`}
        onChange={(event) => setText(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take();
        }}
      />
      <p id={`${id}-range`} className={isRight ? 'soft' : styles.wrong}>
        {words.pages.spanRange(NARROWEST_SPAN_MM, WIDEST_SPAN_MM)}
      </p>
    </>
  );
}
