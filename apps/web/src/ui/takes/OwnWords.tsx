import { FINDING_CODES, PRAISE_CODES, PRAISE_WORDS, wordsOfFinding, type OwnWords as Words } from '@fivespan/core';
import { useState } from 'react';
import { $settings, changeSettings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Takes.module.css';

const w = words.takes;
const NONE: Words = { heard: '', step: '' };
const MOST = 500;

/** Something that each sentence can be seen with. */
const SAMPLE = { bars: [5, 6], hand: 'right', value: 40, unit: 'ms', sure: 1 } as const;
const SAMPLE_BPM = 132;

/** The sentences of the remarks as a table: ours, and beside it the teacher's own, kept in this browser. */
export function OwnWords() {
  const [isOpen, setIsOpen] = useState(false);
  const { takeWords } = useStore($settings);
  const change = (code: string, by: Partial<Words>): void => {
    const next = { ...NONE, ...takeWords[code], ...by };
    const { [code]: _, ...others } = takeWords;
    changeSettings({ takeWords: next.heard === '' && next.step === '' ? others : { ...others, [code]: next } });
  };
  return (
    <details onToggle={({ currentTarget }) => setIsOpen(currentTarget.open)}>
      <summary>{w.ownWords}</summary>
      {isOpen && (
        <div className={styles.words}>
          <p className="soft">{w.ownWordsAbout}</p>
          <table>
            <thead>
              <tr>
                <th scope="col">{w.ours}</th>
                <th scope="col">{w.yours}</th>
              </tr>
            </thead>
            <tbody>
              {PRAISE_CODES.map((code) => (
                <Line
                  key={code}
                  ours={PRAISE_WORDS[code]}
                  yours={takeWords[code]?.heard ?? ''}
                  onChange={(heard) => change(code, { heard })}
                />
              ))}
              {FINDING_CODES.flatMap((code) => {
                const { heard, step } = wordsOfFinding({ ...SAMPLE, code }, SAMPLE_BPM);
                return [
                  <Line
                    key={`${code} heard`}
                    ours={heard}
                    yours={takeWords[code]?.heard ?? ''}
                    onChange={(text) => change(code, { heard: text })}
                  />,
                  <Line
                    key={`${code} step`}
                    ours={step}
                    yours={takeWords[code]?.step ?? ''}
                    onChange={(text) => change(code, { step: text })}
                  />,
                ];
              })}
            </tbody>
          </table>
        </div>
      )}
    </details>
  );
}

function Line({
  ours,
  yours,
  onChange,
}: {
  readonly ours: string;
  readonly yours: string;
  readonly onChange: (text: string) => void;
}) {
  return (
    <tr>
      <td>{ours}</td>
      <td>
        <input
          aria-label={w.insteadOf(ours)}
          value={yours}
          maxLength={MOST}
          onChange={({ target }) => onChange(target.value)}
        />
      </td>
    </tr>
  );
}
