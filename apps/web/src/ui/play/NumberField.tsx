import { useState } from 'react';
import { words } from '../words/index.ts';
import styles from './Panels.module.css';

interface NumberProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly onChange: (value: number) => void;
}

/** A whole number that is typed. While it is not one, or out of bounds, it is marked and nothing is changed; left so, it goes back. */
export function NumberField({ label, value, least, most, onChange }: NumberProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const isWrong = typed !== null && !isWithin(typed, least, most);
  return (
    <input
      className={styles.number}
      inputMode="numeric"
      aria-label={label}
      aria-invalid={isWrong}
      title={words.play.bounds(least, most)}
      value={typed ?? String(value)}
      onChange={({ target }) => {
        setTyped(target.value);
        if (isWithin(target.value, least, most)) onChange(Number(target.value));
      }}
      onBlur={() => setTyped(null)}
    />
  );
}

function isWithin(text: string, least: number, most: number): boolean {
  return /^\d{1,4}$/u.test(text.trim()) && Number(text) >= least && Number(text) <= most;
}
