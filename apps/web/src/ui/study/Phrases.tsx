import { LINE_RULES, typeset, type LineId, type MotivePin } from '@fivespan/core';
import { useId, useRef, useState, type RefObject } from 'react';
import { drillPhrase } from '../../features/drill/index.ts';
import { goTo } from '../../features/navigation/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import {
  canGiveMotive,
  giveMotive,
  keepPhrase,
  letMotiveGo,
  motiveHere,
  phrasesHere,
  putPhrase,
  removePhrase,
  renamePhrase,
  type PhraseHere,
  type Study,
} from '../../features/study/index.ts';
import { NumberField } from '../play/NumberField.tsx';
import { words } from '../words/index.ts';
import { spokenSigns } from '../words/spoken.ts';
import styles from './Phrases.module.css';

const w = words.study.phrases;
const LINES_HERE: readonly LineId[] = ['chorus', 'bass'];

/** Most chords that are offered to be kept as one phrase: four bars of two. */
const MOST_CHORDS = 8;

/** What the chosen chord is called, and its bar. */
function hereOf({ planned }: Study): { readonly chord: string; readonly bar: number } {
  const { slot, playedBar } = planned.analysed.played;
  return { chord: typeset(slot.chord.symbol), bar: playedBar.bar.number };
}

/** The lesson's own phrases: kept from here, put here, drilled, renamed, removed. */
export function Phrases({ study }: { readonly study: Study }) {
  const id = useId();
  const [isOpen, setIsOpen] = useState(false);
  const opener = useRef<HTMLButtonElement>(null);
  return (
    // oxlint-disable-next-line jsx-a11y/no-static-element-interactions -- Escape closes it from wherever in it
    <div
      className={styles.box}
      onKeyDown={({ key }) => {
        if (key !== 'Escape' || !isOpen) return;
        setIsOpen(false);
        opener.current?.focus();
      }}
    >
      <button
        ref={opener}
        type="button"
        className="plain"
        aria-expanded={isOpen}
        aria-controls={id}
        onClick={() => setIsOpen(!isOpen)}
      >
        {w.title(study.choices.phrases.length)}
      </button>
      {isOpen && (
        <div id={id} className={styles.panel} role="group" aria-label={w.panel}>
          <p className="soft">{w.about}</p>
          <Keep study={study} />
          <List study={study} opener={opener} />
          <Motives study={study} />
        </div>
      )}
    </div>
  );
}

/** Keeps what is played from the chosen chord on. */
function Keep({ study }: { readonly study: Study }) {
  const [part, setPart] = useState<LineId>('chorus');
  const [count, setCount] = useState(2);
  const [name, setName] = useState('');
  const [said, setSaid] = useState('');
  const { chord, bar } = hereOf(study);
  return (
    <form
      className={styles.keep}
      onSubmit={(event) => {
        event.preventDefault();
        const outcome = keepPhrase(study, { part, count, name });
        setSaid(w.outcome[outcome]);
        if (outcome === 'kept') setName('');
      }}
    >
      <label>
        {w.which}{' '}
        <select
          value={part}
          onChange={({ target }) => setPart(LINES_HERE.find((each) => each === target.value) ?? part)}
        >
          {LINES_HERE.map((each) => (
            <option key={each} value={each}>
              {w.line[each]}
            </option>
          ))}
        </select>
      </label>
      <span>{w.from(chord, bar)}</span>
      <label>
        {w.over} <NumberField label={w.over} value={count} least={1} most={MOST_CHORDS} onChange={setCount} />
      </label>
      <label>
        {w.name} <input value={name} maxLength={60} onChange={({ target }) => setName(target.value)} />
      </label>
      <button type="submit" className="main">
        {w.keep}
      </button>
      <p role="status" className={styles.said}>
        {said}
      </p>
    </form>
  );
}

function List({ study, opener }: { readonly study: Study; readonly opener: RefObject<HTMLButtonElement | null> }) {
  const [renaming, setRenaming] = useState<string | null>(null);
  const here = phrasesHere(study);
  if (here.length === 0) return <p>{w.none}</p>;
  return (
    <ul className={styles.list} aria-label={w.list}>
      {here.map((each) => (
        <li key={each.phrase.name}>
          {renaming === each.phrase.name ? (
            <Rename name={each.phrase.name} onDone={() => setRenaming(null)} />
          ) : (
            <Row
              study={study}
              here={each}
              onRename={() => setRenaming(each.phrase.name)}
              onRemove={() => {
                removePhrase(each.phrase.name);
                opener.current?.focus();
              }}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

/** Whether a phrase fits where one stands, in words. */
function fitText({ place }: PhraseHere, chord: string): string {
  if (place === undefined) return w.noRoom;
  if (place.rubs.length === 0) return w.fits(chord);
  return w.rubs(place.rubs.map((each) => typeset(w.rub(each.note, each.chord))).join(', '));
}

/** The finger motives the chorus is made of, and the one at the chosen chord. */
function Motives({ study }: { readonly study: Study }) {
  const m = words.study.motives;
  const here = motiveHere(study);
  const given = study.choices.pins.parts.motives;
  const text = ({ notes }: MotivePin): string => m.fingers(notes.map(({ finger }) => finger));
  return (
    <section className={styles.motives} aria-label={m.title}>
      <p className="soft">{m.about}</p>
      {given.map((each, index) => (
        // motives have no names: their place is what they are
        // oxlint-disable-next-line react/no-array-index-key
        <p key={index}>
          {m.madeOf(text(each))}{' '}
          <button
            type="button"
            className="plain"
            aria-label={w.of(m.letGo, text(each))}
            onClick={() => letMotiveGo(index)}
          >
            {m.letGo}
          </button>
        </p>
      ))}
      {here === null ? (
        <p>{m.none}</p>
      ) : (
        <button type="button" disabled={!canGiveMotive(study)} onClick={() => giveMotive(here)}>
          {m.give(hereOf(study).chord, text(here))}
        </button>
      )}
    </section>
  );
}

interface RowProps {
  readonly study: Study;
  readonly here: PhraseHere;
  readonly onRename: () => void;
  readonly onRemove: () => void;
}

function Row({ study, here, onRename, onRemove }: RowProps) {
  const { phrase, place } = here;
  const { chord, bar } = hereOf(study);
  const chords = phrase.chords.map(({ symbol }) => typeset(symbol)).join(' ');
  return (
    <>
      <span>
        <strong>{phrase.name}</strong>{' '}
        <span className="soft">
          {w.line[phrase.part]}, {w.wasOver(chords)}
        </span>
        <br />
        {fitText(here, chord)}
      </span>
      <span className={styles.does}>
        <button
          type="button"
          disabled={place === undefined}
          aria-label={w.of(spokenSigns(w.putOver(chord, bar)), phrase.name)}
          onClick={() => putPhrase(here)}
        >
          {w.put}
        </button>
        {LINE_RULES[phrase.part].inPosition && (
          <button type="button" aria-label={w.of(w.drill, phrase.name)} onClick={() => drillIt(phrase.name)}>
            {w.drill}
          </button>
        )}
        <button type="button" className="plain" aria-label={w.of(w.rename, phrase.name)} onClick={onRename}>
          {w.rename}
        </button>
        <button type="button" className="plain" aria-label={w.of(w.remove, phrase.name)} onClick={onRemove}>
          {w.remove}
        </button>
      </span>
    </>
  );
}

/** Goes to the drill of a phrase: the same line in every key. */
function drillIt(name: string): void {
  const open = $open.get();
  if (open === null || open.chart === null) return;
  drillPhrase(open.id, open.chart, name);
  goTo({ kind: 'lesson', id: open.id, screen: 'pages' });
}

function Rename({ name, onDone }: { readonly name: string; readonly onDone: () => void }) {
  const [text, setText] = useState(name);
  const [said, setSaid] = useState('');
  return (
    <form
      className={styles.keep}
      onSubmit={(event) => {
        event.preventDefault();
        const outcome = renamePhrase(name, text);
        setSaid(w.outcome[outcome]);
        if (outcome === 'kept') onDone();
      }}
    >
      <label>
        {w.name}{' '}
        <input
          value={text}
          maxLength={60}
          // oxlint-disable-next-line jsx-a11y/no-autofocus -- whoever asks to rename goes on in the field
          autoFocus
          onChange={({ target }) => setText(target.value)}
        />
      </label>
      <button type="submit">{w.renamed}</button>
      <p role="status" className={styles.said}>
        {said}
      </p>
    </form>
  );
}
