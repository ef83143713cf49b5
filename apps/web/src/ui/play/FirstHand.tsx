import { keysOf } from '@fivespan/core';
import { useMemo } from 'react';
import { $piece, $playing, type HandPlace, type Piece } from '../../features/playing/index.ts';
import { $settings } from '../../features/settings/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { StatePicture, type PlaceState } from '../shell/StatePicture.tsx';
import { StageKeyboard } from '../stage/StageKeyboard.tsx';
import { freeTabs, namesOf, type MarkedFamily } from '../stage/free-content.ts';
import type { StageKeys } from '../stage/stage-content.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import type { ThumbText } from '../words/thumb-name.ts';
import { everyFreeSet } from './free-stage.ts';
import styles from './FirstHand.module.css';
import { travelsOf, useStageTexts, type StageTexts } from './stage-of-moment.ts';

/** Where the hand will begin: large, and on the keys. */
export function FirstHand() {
  const piece = useStore($piece);
  const { kind } = useStore($playing);
  if (piece !== null) return <First piece={piece} />;
  return <NoHand state={kind === 'nothing' ? 'nothing' : kind === 'failed' ? 'stopped' : 'opening'} />;
}

/** Why no hand is shown, as a picture; the words stand beside Start. */
function NoHand({ state }: { readonly state: PlaceState }) {
  return (
    <div className={`${styles.first} ${styles.none}`} aria-hidden="true">
      <StatePicture state={state} />
    </div>
  );
}

function First({ piece }: { readonly piece: Piece }) {
  const texts = useStageTexts();
  const travels = useMemo(() => travelsOf(piece), [piece]);
  const { way } = useStore($settings);
  const everySet = useMemo(() => everyFreeSet(piece, texts), [piece, texts]);
  const form = piece.forms[piece.segments.findIndex(({ kind }) => kind === 'chorus')];
  const slot = form?.slots.find(({ hand }) => hand !== null);
  if (slot?.hand == null) return <NoHand state="nothing" />;
  const isFree = way === 'free hand' && slot.families.length > 0;
  const { begins, names, content } = isFree ? freeHand(slot.families, texts) : writtenHand(slot.hand, texts);
  return (
    <div className={isFree ? `${styles.first} ${styles.free}` : styles.first}>
      <p className={styles.words}>
        <span className="soft">{begins}</span>
        <span className={isFree ? styles.letters : styles.letter} data-first-thumb>
          {names}
        </span>
        <span className={styles.chord}>
          <ChordName chord={slot.chord} step="large" />
        </span>
      </p>
      <StageKeyboard content={{ ...content, everyFreeSet: isFree ? everySet : null, travels }} />
    </div>
  );
}

/** What is said of the first hand, and what is on the keys. */
interface Beginning {
  readonly begins: string;
  readonly names: string;
  readonly content: Pick<StageKeys, 'hand' | 'tabs' | 'label'>;
}

/** Any thumb of the chord's families. */
function freeHand(families: readonly MarkedFamily[], { thumb }: StageTexts): Beginning {
  const eachOf = (name: ThumbText['said'], between: string): string[] =>
    families.map((each) => namesOf(each, name).join(between));
  return {
    begins: words.play.thumbsFirst,
    names: eachOf(thumb.printed, ' ').join(` ${words.play.orThumbs} `),
    content: {
      hand: [],
      tabs: freeTabs(families, thumb, { isComing: false, place: null }),
      label: words.play.freeKeyboardLabel(eachOf(thumb.said, ', ').join(`; ${words.play.orThumbs} `)),
    },
  };
}

/** The one the lesson has. */
function writtenHand(hand: HandPlace, { thumb, note }: StageTexts): Beginning {
  const { position, thumbMidi, mark } = hand;
  const names = thumb.printed(position.thumb, mark);
  return {
    begins: words.play.thumbFirst,
    names,
    content: {
      hand: keysOf(position, thumbMidi),
      tabs: [{ midi: thumbMidi, name: names, role: 'now' }],
      label: words.play.keyboardLabel(thumb.said(position.thumb, mark), note(hand)),
    },
  };
}
