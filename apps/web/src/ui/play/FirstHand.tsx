import { keysOf } from '@fivespan/core';
import { useMemo } from 'react';
import { $piece, $playing, type Piece } from '../../features/playing/index.ts';
import { $settings } from '../../features/settings/index.ts';
import { ChordName } from '../chord/ChordName.tsx';
import { StatePicture, type PlaceState } from '../shell/StatePicture.tsx';
import { StageKeyboard } from '../stage/StageKeyboard.tsx';
import { freeTabs, namesOf } from '../stage/free-content.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { everyFreeSet } from './free-stage.ts';
import styles from './FirstHand.module.css';
import { travelsOf, useStageTexts } from './stage-of-moment.ts';

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
  const { hand, chord } = slot;
  const { position, thumbMidi, mark } = hand;
  const name = texts.thumb.printed(position.thumb, mark);
  const isFree = way === 'free hand' && slot.families.length > 0;
  if (isFree) {
    const names = slot.families.map((each) => namesOf(each, texts.thumb.printed));
    const said = slot.families.map((each) => namesOf(each, texts.thumb.said).join(', '));
    return (
      <div className={`${styles.first} ${styles.free}`}>
        <p className={styles.words}>
          <span className="soft">{words.play.thumbsFirst}</span>
          <span className={styles.letters} data-first-thumb>
            {names.map((each) => each.join(' ')).join(` ${words.play.orThumbs} `)}
          </span>
          <span className={styles.chord}>
            <ChordName chord={chord} step="large" />
          </span>
        </p>
        <StageKeyboard
          content={{
            hand: [],
            tabs: freeTabs(slot.families, texts.thumb, { isComing: false, place: null }),
            everyFreeSet: everySet,
            travels,
            label: words.play.freeKeyboardLabel(said.join(`; ${words.play.orThumbs} `)),
          }}
        />
      </div>
    );
  }
  return (
    <div className={styles.first}>
      <p className={styles.words}>
        <span className="soft">{words.play.thumbFirst}</span>
        <span className={styles.letter} data-first-thumb>
          {name}
        </span>
        <span className={styles.chord}>
          <ChordName chord={chord} step="large" />
        </span>
      </p>
      <StageKeyboard
        content={{
          hand: keysOf(position, thumbMidi),
          tabs: [{ midi: thumbMidi, name, role: 'now' }],
          everyFreeSet: null,
          travels,
          label: words.play.keyboardLabel(texts.thumb.said(position.thumb, mark), texts.note(hand)),
        }}
      />
    </div>
  );
}
