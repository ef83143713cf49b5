import { keysOf, midi, type Midi } from '@fivespan/core';
import { drawKeyboard, layOutKeyboard, PALETTES } from '@fivespan/formats/diagram';
import { useMemo, useRef } from 'react';
import { $piece, type HandPlace, type Moment, type Piece } from '../../features/playing/index.ts';
import { $theme } from '../../features/settings/index.ts';
import { $pressed } from '../../features/sound/index.ts';
import { TravelKeyboard } from '../keyboard/TravelKeyboard.tsx';
import { stretchAround, WHOLE_STRETCH, type KeyboardStretch } from '../keyboard/stretch.ts';
import { useRoom } from '../study/use-room.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useNoteText } from '../words/note-names.ts';
import styles from './PlayKeyboard.module.css';

/** Narrower than this, the whole stretch would make keys too small to be told apart from the bench. */
const WHOLE_FROM_PX = 560;

/** All keys under the hand in a piece, whatever its keys and choruses: the picture then stays as it is. */
function stretchOf({ forms }: Piece): KeyboardStretch {
  const keys = [...new Set(forms)].flatMap(({ slots }) =>
    slots.flatMap(({ hand }) => (hand === null ? [] : keysOf(hand.position, hand.thumbMidi))),
  );
  return {
    lowest: midi(Math.min(WHOLE_STRETCH.lowest, ...keys)),
    highest: midi(Math.max(WHOLE_STRETCH.highest - 9, ...keys)),
  };
}

/** The keys under the hand, where the thumb goes next, and what is pressed on a connected keyboard. */
export function PlayKeyboard({ moment }: { readonly moment: Moment }) {
  const piece = useStore($piece);
  const theme = useStore($theme);
  const noteText = useNoteText();
  const box = useRef<HTMLDivElement>(null);
  const room = useRoom(box);
  const { hand, next } = moment;
  const isWide = room === null || room.widthPx >= WHOLE_FROM_PX;
  const whole = useMemo(() => (piece === null ? WHOLE_STRETCH : stretchOf(piece)), [piece]);
  const { lowest, highest } = isWide ? whole : narrow(hand, next?.hand ?? null);
  return (
    <div ref={box} className={styles.keyboard}>
      <TravelKeyboard
        lowest={lowest}
        highest={highest}
        hand={hand}
        next={next === null ? null : { name: next.hand.position.thumb, midi: next.hand.thumbMidi }}
        theme={theme}
        label={
          hand === null
            ? words.play.keyboardEmpty
            : words.play.keyboardLabel(noteText(hand.position.thumb), hand.position.notes.map(noteText).join(' '))
        }
      />
      <PressedKeys lowest={lowest} highest={highest} theme={theme} />
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
