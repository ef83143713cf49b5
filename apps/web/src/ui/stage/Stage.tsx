import type { ChordSymbol } from '@fivespan/core';
import { chordPieces } from '@fivespan/formats/type';
import type { CSSProperties, ReactNode } from 'react';
import { ChordName } from '../chord/ChordName.tsx';
import { words } from '../words/index.ts';
import { NextHand } from './NextHand.tsx';
import { Slashes } from './Slashes.tsx';
import type { StageContent, StageLine, StageMark, StageTab } from './stage-content.ts';
import { StageKeyboard } from './StageKeyboard.tsx';
import styles from './Stage.module.css';

const w = words.play;

interface StageProps {
  readonly content: StageContent;
  /** What stands at the end of the line: what stops. */
  readonly control: ReactNode;
  /** Keys that are down on a connected keyboard. */
  readonly marks?: readonly StageMark[];
  /** A tab is touched with a finger or mouse. */
  readonly onTab?: (tab: StageTab) => void;
}

/**
 * A hand at the keyboard, readable from the bench: where one is; chord and hand now, a barline, chord and hand next; the keys. All
 * it shows comes from outside; its parts keep their places and sizes whatever that is.
 */
export function Stage({ content: { line, thumb, now, beats, next, keyboard }, control, marks, onTab }: StageProps) {
  const fits = (text: string): CSSProperties => ({ '--ems': lettersEm(text) }) as CSSProperties;
  return (
    <>
      <Line line={line} control={control} />
      <div className={thumb === null ? `${styles.two} ${styles.free}` : styles.two}>
        {thumb !== null && (
          <p className={styles.thumb}>
            <span className="unseen">{thumb.label} </span>
            <span className={styles.letter} style={fits(thumb.name)} data-thumb-now>
              {thumb.name}
            </span>
          </p>
        )}
        <p className={styles.now}>
          <Symbol chord={now} name="now" />
        </p>
        <p className={styles.beats}>
          {'rests' in beats ? (
            <span className={styles.rests} data-rests>
              {beats.rests}
            </span>
          ) : (
            <Slashes {...beats} />
          )}
        </p>
        <p className={styles.next}>
          <span className="unseen">{w.nextChord} </span>
          {next?.chord != null && <Symbol chord={next.chord} name="next" />}
        </p>
        {next?.thumbs != null && (
          <div className={styles.thumbs}>
            <span className="unseen">{w.nextThumbs} </span>
            {next.thumbs.map((names, family) => (
              <p key={family} style={fits(names.join(' '))} data-thumbs-next>
                {family > 0 && <span className={styles.or}>{w.orThumbs} </span>}
                {names.join(' ')}
              </p>
            ))}
          </div>
        )}
        <div className={styles.hand} hidden={thumb === null}>
          <p className={styles.nextThumb}>
            <span className="unseen">{w.next} </span>
            <span data-thumb-next>{next?.hand?.name ?? '\u00A0'}</span>
          </p>
          <p className={next?.isWithChord === true ? 'unseen' : styles.when} data-next-when>
            {next?.when ?? ''}
          </p>
          <div className={styles.picture}>{next?.hand != null && <NextHand keys={next.hand.keys} />}</div>
        </div>
      </div>
      <StageKeyboard
        content={keyboard}
        {...(marks === undefined ? {} : { marks })}
        {...(onTab === undefined ? {} : { onTab })}
      />
    </>
  );
}

function Line({
  line: { place, key, comingKey, tempoBpm, turn },
  control,
}: {
  readonly line: StageLine;
  readonly control: ReactNode;
}) {
  return (
    <div
      className={styles.line}
      data-announces={comingKey !== null || undefined}
      data-trades={turn != null || undefined}
    >
      <p className={styles.place} data-bar-now>
        <span className="unseen">{place.before}</span>
        <b>{place.large}</b>
        <small>{place.after}</small>
      </p>
      <p className={styles.key} data-key-now>
        <KeyName name={key} />
        {comingKey !== null && (
          <>
            <span className={styles.arrow} aria-hidden="true">
              →
            </span>
            <span className="unseen"> {w.keyComing} </span>
            <b data-key-coming>
              <KeyName name={comingKey} />
            </b>
          </>
        )}
      </p>
      <p className={styles.tempo} data-tempo-now>
        ♩<span className={styles.equals}> =</span> {tempoBpm}
      </p>
      {turn != null && (
        <p className={styles.turn} data-turn>
          {turn.isMine ? <b>{turn.said}</b> : turn.said}
        </p>
      )}
      <div className={styles.control}>{control}</div>
    </div>
  );
}

/** A key; where there is little room its mode is smaller. */
function KeyName({ name }: { readonly name: string }) {
  const [tonic = '', ...mode] = name.split(' ');
  return (
    <>
      {tonic}
      <span className={styles.mode}> {mode.join(' ')}</span>
    </>
  );
}

/** A chord, or words, as large as they find room. */
function Symbol({ chord, name }: { readonly chord: ChordSymbol | string; readonly name: 'now' | 'next' }) {
  const ems = typeof chord === 'string' ? lettersEm(chord) : chordEm(chord);
  return (
    <span
      className={typeof chord === 'string' ? styles.words : styles.symbol}
      style={{ '--ems': ems } as CSSProperties}
      {...{ [`data-chord-${name}`]: '' }}
    >
      {typeof chord === 'string' ? chord : <ChordName chord={chord} step="bench" />}
    </span>
  );
}

/** About how wide a symbol is, in its size: rather too wide than too narrow. */
function chordEm(chord: ChordSymbol): number {
  return chordPieces(chord, 'bench').reduce(
    (sum, { text, isSign, sizeEms, part }) =>
      sum + [...text].length * sizeEms * (isSign ? 0.42 : part === 'root' ? 0.7 : 0.58),
    0.05,
  );
}

/** The same of a name in one size. */
function lettersEm(text: string): number {
  return [...text].reduce(
    (sum, letter) => sum + (/[♭♯′″‴]/u.test(letter) ? 0.42 : /[A-Z]/u.test(letter) ? 0.74 : 0.55),
    0.05,
  );
}
