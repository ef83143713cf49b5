import { formatKey, keysOf, pitchClassOf } from '@fivespan/core';
import { useEffect, useMemo, useState } from 'react';
import { $piece, giveComputerKeys, type Piece } from '../../features/playing/index.ts';
import { countSeeking, isAllFound, newSearch, seek, type Search } from '../../features/today/index.ts';
import { $midi, $pressed, onStrike } from '../../features/sound/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { StageKeyboard } from '../stage/StageKeyboard.tsx';
import { travelsOf, useStageTexts } from '../play/stage-of-moment.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Today.module.css';

const w = words.today;

/** Positions one after the other: time stands until each is found. */
export function UntilFound() {
  const piece = useStore($piece);
  const [search, setSearch] = useState<Search | null>(null);
  const [withLeftHand, setWithLeftHand] = useState(false);
  const slots = useMemo(() => slotsOf(piece), [piece]);
  if (search === null || piece === null) {
    return (
      <div>
        <p>
          <strong>{w.found}</strong> <span className="soft">{w.foundAbout}</span>
        </p>
        <p className={styles.line}>
          <button
            disabled={slots.length === 0}
            onClick={() =>
              setSearch(
                newSearch(
                  slots.map(({ hand, chord }) => ({
                    steps: hand.position.shape.steps,
                    thumb: pitchClassOf(hand.position.thumb),
                    root: chord.kind === 'chord' ? pitchClassOf(chord.root) : null,
                  })),
                  withLeftHand,
                ),
              )
            }
          >
            {w.foundStart}
          </button>
          <label>
            <input type="checkbox" checked={withLeftHand} onChange={({ target }) => setWithLeftHand(target.checked)} />{' '}
            {w.foundLeft}
          </label>
        </p>
      </div>
    );
  }
  return <Looking key={search.at} piece={piece} search={search} onSearch={setSearch} slots={slots} />;
}

type Slot = Piece['forms'][number]['slots'][number];
type SlotWithHand = Slot & { readonly hand: NonNullable<Slot['hand']> };

/** Each place that follows another one, in the order of the tune. */
function slotsOf(piece: Piece | null): readonly SlotWithHand[] {
  const form = piece?.forms[piece.segments.findIndex(({ kind }) => kind === 'chorus')];
  const withHand = (form?.slots ?? []).filter((slot): slot is SlotWithHand => slot.hand !== null);
  return withHand.filter(({ hand, chord }, index) => {
    const before = withHand[index - 1];
    return (
      before === undefined ||
      before.hand.thumbMidi !== hand.thumbMidi ||
      before.hand.position.shape.id !== hand.position.shape.id ||
      JSON.stringify(before.chord) !== JSON.stringify(chord)
    );
  });
}

/** What is looked for is looked at: the keys come into the window. */
function intoView(element: HTMLElement | null): void {
  element?.scrollIntoView({ block: 'nearest' });
}

interface LookingProps {
  readonly piece: Piece;
  readonly search: Search;
  readonly onSearch: (search: Search | null) => void;
  readonly slots: readonly SlotWithHand[];
}

function Looking({ piece, search, onSearch, slots }: LookingProps) {
  const texts = useStageTexts();
  const pressed = useStore($pressed);
  const midi = useStore($midi);
  const [isShown, setIsShown] = useState(false);
  const travels = useMemo(() => travelsOf(piece), [piece]);
  const key = piece.segments[0]?.key;
  const slot = slots[search.at];
  useEffect(() => onStrike((struck) => onSearch(seek(search, struck))), [search, onSearch]);
  useEffect(() => (slot === undefined ? undefined : giveComputerKeys(slot.families)), [slot]);
  const isOver = isAllFound(search) || slot === undefined;
  useEffect(
    () => (isOver || key === undefined ? undefined : countSeeking(() => ({ key: formatKey(key) }))),
    [isOver, key],
  );
  if (isOver) {
    return (
      <p role="status" className={styles.line}>
        {w.foundAll} <button onClick={() => onSearch(null)}>{w.foundEnd}</button>
      </p>
    );
  }
  const { hand, chord } = slot;
  const name = texts.thumb.printed(hand.position.thumb, hand.mark);
  const keys = keysOf(hand.position, hand.thumbMidi);
  const inHand = new Set(hand.position.notes.map((note) => pitchClassOf(note) as number));
  return (
    <div ref={intoView} className={styles.looking} data-looking={search.at}>
      <p className={styles.sought}>
        <span className={styles.letter} data-sought>
          {name}
        </span>{' '}
        <ChordName chord={chord} step="large" />{' '}
        <span role="status" className="soft">
          {w.foundAt(search.at + 1, search.sought.length)}
        </span>
      </p>
      <StageKeyboard
        content={{
          hand: isShown ? keys : [],
          tabs: [{ midi: hand.thumbMidi, name, role: 'may' }],
          everyFreeSet: null,
          travels,
          label: w.foundKeyboard(texts.thumb.said(hand.position.thumb, hand.mark)),
        }}
        marks={[...pressed].map((midi) => ({ midi, sign: inHand.has(midi % 12) ? 'inside' : 'outside' }))}
      />
      <p className={styles.line}>
        <button aria-pressed={isShown} onClick={() => setIsShown(!isShown)}>
          {w.foundShow}
        </button>
        <button onClick={() => onSearch({ ...search, at: search.at + 1, struck: [] })}>{w.foundSkip}</button>
        <button onClick={() => onSearch(null)}>{w.foundEnd}</button>
      </p>
      {midi.kind !== 'open' && <p className="soft">{words.play.computerKeys}</p>}
    </div>
  );
}
