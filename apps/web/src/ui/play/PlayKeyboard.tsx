import { keysOf, midi, type Midi } from '@fivespan/core';
import { drawKeyboard, layOutKeyboard, PALETTES } from '@fivespan/formats/diagram';
import { useMemo, useRef } from 'react';
import { $piece, type HandPlace, type Moment, type Piece } from '../../features/playing/index.ts';
import { $theme } from '../../features/settings/index.ts';
import { $pressed } from '../../features/sound/index.ts';
import { rowsForTabs } from '../keyboard/tab-rows.ts';
import { TravelKeyboard } from '../keyboard/TravelKeyboard.tsx';
import { stretchAround, WHOLE_STRETCH, type KeyboardStretch } from '../keyboard/stretch.ts';
import { useRoom } from '../keyboard/use-room.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import { spokenNote } from '../words/spoken.ts';
import { useThumbText } from '../words/thumb-name.ts';
import styles from './PlayKeyboard.module.css';

/** Felt above and tabs below the keys. */
const TAB_ROOM_MM = 26;
/** A second row of tabs. */
const TAB_ROW_ROOM_MM = 20;

/** Narrower than this, keys of all the stretch would be too small to be told apart from the bench; from the other on there is room for more. */
const ALL_FROM_PX = 560;
const MORE_FROM_PX = 1000;

/** All keys under the hand in a piece, whatever its keys and choruses: the picture then stays as it is. */
function stretchOf({ forms }: Piece): KeyboardStretch {
  const keys = [...new Set(forms)].flatMap(({ slots }) =>
    slots.flatMap(({ hand }) => (hand === null ? [] : keysOf(hand.position, hand.thumbMidi))),
  );
  if (keys.length === 0) return WHOLE_STRETCH;
  return { lowest: midi(Math.min(...keys) - 1), highest: midi(Math.max(...keys) + 1) };
}

/** Rows of tabs for all thumbs of a piece: the picture does not grow while one plays. */
function tabRowsOf({ forms }: Piece): 1 | 2 {
  const hands = [...new Set(forms)].flatMap(({ slots }) => slots.flatMap(({ hand }) => (hand === null ? [] : [hand])));
  return rowsForTabs(
    hands.map(({ thumbMidi }) => thumbMidi),
    new Set(hands.map(({ position }) => position.shape.id)).size > 1,
  );
}

function together(a: KeyboardStretch, b: KeyboardStretch): KeyboardStretch {
  return { lowest: midi(Math.min(a.lowest, b.lowest)), highest: midi(Math.max(a.highest, b.highest)) };
}

/** The keys under the hand, where the thumb goes next, and what is pressed on a connected keyboard. */
export function PlayKeyboard({ moment }: { readonly moment: Moment }) {
  const piece = useStore($piece);
  const theme = useStore($theme);
  const noteText = useNoteText();
  const thumbText = useThumbText();
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const { hand, next } = moment;
  const all = useMemo(() => (piece === null ? WHOLE_STRETCH : stretchOf(piece)), [piece]);
  const tabRows = useMemo(() => (piece === null ? 1 : tabRowsOf(piece)), [piece]);
  const widthPx = room?.widthPx ?? MORE_FROM_PX;
  const { lowest, highest } =
    widthPx >= MORE_FROM_PX
      ? together(all, WHOLE_STRETCH)
      : widthPx >= ALL_FROM_PX
        ? all
        : narrow(hand, next?.hand ?? null);
  const { widthMm, lengthMm } = useMemo(() => layOutKeyboard(lowest, highest), [lowest, highest]);
  return (
    <div
      ref={box}
      className={`${styles.keyboard} ${styles.inView}`}
      style={{ '--wide': widthMm / (lengthMm + TAB_ROOM_MM + (tabRows - 1) * TAB_ROW_ROOM_MM) } as React.CSSProperties}
    >
      <TravelKeyboard
        lowest={lowest}
        highest={highest}
        hand={hand}
        next={
          next === null ? null : { name: next.hand.position.thumb, midi: next.hand.thumbMidi, mark: next.hand.mark }
        }
        tabRows={tabRows}
        theme={theme}
        label={
          hand === null
            ? words.play.keyboardEmpty
            : words.play.keyboardLabel(
                thumbText.said(hand.position.thumb, hand.mark),
                hand.position.notes.map((note) => spokenNote(note, noteText)).join(', '),
              )
        }
      />
      <PressedKeys lowest={lowest} highest={highest} theme={theme} tabRows={tabRows} />
    </div>
  );
}

/** Two octaves that hold the hand and, where they can, the next thumb. */
function narrow(hand: HandPlace | null, next: HandPlace | null): KeyboardStretch {
  const thumbs = [hand, next].flatMap((each) => (each === null ? [] : [each.thumbMidi as number]));
  const stretch = stretchAround(midi(Math.min(...thumbs, WHOLE_STRETCH.highest - 24)));
  const keys = hand === null ? [] : keysOf(hand.position, hand.thumbMidi);
  return { lowest: stretch.lowest, highest: midi(Math.max(stretch.highest, ...keys)) };
}

/** What is pressed: an outline and a dot on each key. No key is tinted by it. */
export function PressedKeys({
  lowest,
  highest,
  theme,
  tabRows = 1,
}: {
  readonly lowest: Midi;
  readonly highest: Midi;
  readonly theme: 'light' | 'dark';
  /** As the picture under it has it. */
  readonly tabRows?: number;
}) {
  const pressed = useStore($pressed);
  const layout = useMemo(() => layOutKeyboard(lowest, highest), [lowest, highest]);
  const viewBox = useMemo(
    () =>
      /viewBox="([^"]*)"/u.exec(
        drawKeyboard({ lowest, highest, hand: null, otherThumbs: [], degrees: [] }, { tabRows }),
      )?.[1],
    [lowest, highest, tabRows],
  );
  const { white, onWhite, onBlack } = PALETTES[theme];
  return (
    <svg viewBox={viewBox} className={styles.pressed} aria-hidden="true">
      {layout.keys
        .filter((key) => pressed.has(key.midi))
        .map(({ midi: key, xMm, widthMm, lengthMm, centreMm, black }) => (
          <g key={key} data-pressed={key}>
            <rect
              x={xMm + 1.4}
              y={0}
              width={widthMm - 2.8}
              height={lengthMm - 1.4}
              rx={1.4}
              fill="none"
              stroke={black ? onBlack : onWhite}
              strokeWidth={1.8}
            />
            <circle
              cx={centreMm}
              cy={black ? lengthMm - 25 : lengthMm - 34}
              r={3.1}
              fill={black ? onBlack : onWhite}
              stroke={black ? onWhite : white}
              strokeWidth={1}
            />
          </g>
        ))}
    </svg>
  );
}
