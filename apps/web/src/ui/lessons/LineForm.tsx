import { useId, useState } from 'react';
import { words } from '../words/index.ts';
import styles from './Cover.module.css';

/** One line of text that is asked for where it will stand: a title, a folder's name. Escape leaves it. */
export function LineForm({
  label,
  value,
  longest,
  suggestions = [],
  keep,
  end,
}: {
  readonly label: string;
  readonly value: string;
  readonly longest: number;
  readonly suggestions?: readonly string[];
  readonly keep: (text: string) => Promise<void>;
  readonly end: () => void;
}) {
  const [text, setText] = useState(value);
  const id = useId();
  return (
    <form
      className={styles.form}
      onSubmit={(event) => {
        event.preventDefault();
        void keep(text);
      }}
    >
      <label>
        <span>{label}</span>
        <input
          value={text}
          maxLength={longest}
          list={suggestions.length === 0 ? undefined : id}
          autoComplete="off"
          // the teacher has just asked for this field
          // oxlint-disable-next-line jsx-a11y/no-autofocus
          autoFocus
          onFocus={(event) => event.target.select()}
          onChange={(event) => setText(event.target.value)}
          onKeyDown={(event) => {
            if (event.key === 'Escape') end();
          }}
        />
      </label>
      {suggestions.length > 0 && (
        <datalist id={id}>
          {suggestions.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </datalist>
      )}
      <span className={styles.formWays}>
        <button type="submit">{words.lessons.keepTitle}</button>
        <button type="button" className="plain" onClick={end}>
          {words.lessons.cancel}
        </button>
      </span>
    </form>
  );
}
