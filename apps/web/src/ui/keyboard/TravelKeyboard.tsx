import { keysOf, type Midi, type NoteName, type Position } from '@fivespan/core';
import { drawKeyboard, layOutKeyboard, PALETTES, type DrawnKey } from '@fivespan/formats/diagram';
import { useEffect, useMemo, useRef } from 'react';
import { useNoteText } from '../words/note-names.ts';
import styles from './TravelKeyboard.module.css';

interface TravelProps {
  readonly lowest: Midi;
  readonly highest: Midi;
  readonly hand: { readonly position: Position; readonly thumbMidi: Midi } | null;
  /** Where the thumb goes next. */
  readonly next: { readonly name: NoteName; readonly midi: Midi } | null;
  readonly theme: 'light' | 'dark';
  /** What a screen reader hears. */
  readonly label: string;
}

/** From a key's front edge to a finger's numeral, and a tab's size, in the picture's millimetres. */
const FINGER_LIFT = { white: 9, black: 7.5 };
const FINGER_SIZE = { white: 15.5, black: 13 };
const TAB = { width: 20, height: 18, radius: 6.5, gap: 1.2 };

/**
 * A keyboard over which a hand travels. The keys are drawn once; a step tints five of them anew, and the numerals and the tab
 * slide to their keys.
 */
export function TravelKeyboard({ lowest, highest, hand, next, theme, label }: TravelProps) {
  const noteText = useNoteText();
  const palette = PALETTES[theme];
  const layout = useMemo(() => layOutKeyboard(lowest, highest), [lowest, highest]);
  const svg = useMemo(
    () => drawKeyboard({ lowest, highest, hand: null, otherThumbs: [], degrees: [] }, { theme, tabRows: 1 }),
    [lowest, highest, theme],
  );
  const viewBox = /viewBox="([^"]*)"/u.exec(svg)?.[1];
  const keyAt = useMemo(() => new Map(layout.keys.map((key) => [key.midi, key])), [layout]);
  const keys = hand === null ? [] : keysOf(hand.position, hand.thumbMidi);

  const thumbKey = hand === null ? undefined : keyAt.get(hand.thumbMidi);
  const nextKey = next === null ? undefined : keyAt.get(next.midi);
  return (
    <div className={styles.travel} role="img" aria-label={label}>
      <Keys key={svg} svg={svg} held={keys.join(' ')} palette={palette} />
      <svg viewBox={viewBox} className={styles.hand} aria-hidden="true">
        {nextKey !== undefined && next !== null && nextKey !== thumbKey && (
          <Tab drawn={nextKey} lengthMm={layout.lengthMm} name={noteText(next.name)} isNow={false} palette={palette} />
        )}
        {thumbKey !== undefined && hand !== null && (
          <Tab
            drawn={thumbKey}
            lengthMm={layout.lengthMm}
            name={noteText(hand.position.thumb)}
            isNow
            palette={palette}
          />
        )}
        {keys.map((key, index) => {
          const drawn = keyAt.get(key);
          if (drawn === undefined) return null;
          const colour = drawn.black ? 'black' : 'white';
          return (
            // a finger is the same finger at every step: it slides
            <text
              key={index}
              className={styles.slides}
              style={{ transform: `translate(${drawn.centreMm}px, ${drawn.lengthMm - FINGER_LIFT[colour]}px)` }}
              textAnchor="middle"
              fontSize={FINGER_SIZE[colour]}
              fontWeight="bold"
              fill={drawn.black ? palette.onBlack : palette.onWhite}
            >
              {index + 1}
            </text>
          );
        })}
      </svg>
    </div>
  );
}

interface KeysProps {
  readonly svg: string;
  /** The keys under the hand, between spaces. */
  readonly held: string;
  readonly palette: (typeof PALETTES)['light' | 'dark'];
}

/** The keys, drawn once; those under the hand are tinted. */
function Keys({ svg, held, palette }: KeysProps) {
  const box = useRef<HTMLDivElement>(null);
  const html = useMemo(() => ({ __html: svg }), [svg]);
  useEffect(() => {
    const paths = (held === '' ? [] : held.split(' ')).flatMap((key) => {
      const path = box.current?.querySelector<SVGPathElement>(`.key[data-midi="${key}"]`);
      return path === null || path === undefined ? [] : [path];
    });
    const plain = paths.map((path) => path.getAttribute('fill') ?? '');
    for (const path of paths) {
      path.setAttribute('fill', path.classList.contains('black') ? palette.handBlack : palette.handWhite);
    }
    return () => {
      for (const [index, path] of paths.entries()) path.setAttribute('fill', plain[index] ?? '');
    };
  }, [held, palette]);
  return <div ref={box} className={styles.keys} aria-hidden="true" dangerouslySetInnerHTML={html} />;
}

interface TabProps {
  readonly drawn: DrawnKey;
  readonly lengthMm: number;
  readonly name: string;
  readonly isNow: boolean;
  readonly palette: (typeof PALETTES)['light' | 'dark'];
}

/** The sign of the thumb, hanging from its key; a black key's on a stem. */
function Tab({ drawn, lengthMm, name, isNow, palette }: TabProps) {
  const { width, height, radius, gap } = TAB;
  const dashes = isNow ? undefined : '2.6 2';
  const outline =
    `M${-width / 2} 0h${width}v${height - radius}a${radius} ${radius} 0 0 1 ${-radius} ${radius}` +
    `h${2 * radius - width}a${radius} ${radius} 0 0 1 ${-radius} ${-radius}z`;
  return (
    <g
      className={isNow ? styles.slides : undefined}
      style={{ transform: `translate(${drawn.centreMm}px, ${lengthMm + gap}px)` }}
    >
      {drawn.black && (
        <>
          <path d={`M0 ${drawn.lengthMm - lengthMm - gap}V0`} stroke={palette.white} strokeWidth="3.4" />
          <path
            d={`M0 ${drawn.lengthMm - lengthMm - gap}V0`}
            stroke={palette.onWhite}
            strokeWidth="1.7"
            strokeDasharray={dashes}
          />
        </>
      )}
      <path
        d={outline}
        fill={isNow ? palette.ink : palette.paper}
        stroke={palette.ink}
        strokeWidth="1.1"
        strokeDasharray={dashes}
      />
      <text
        y="13"
        textAnchor="middle"
        fontSize={name.length > 2 ? 9.5 : 12.5}
        fontWeight="bold"
        fill={isNow ? palette.paper : palette.ink}
      >
        {name}
      </text>
    </g>
  );
}
