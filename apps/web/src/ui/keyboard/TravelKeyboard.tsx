import { keysOf, type Midi, type NoteName, type Position } from '@fivespan/core';
import {
  drawKeyboard,
  layOutKeyboard,
  PALETTES,
  placeTabs,
  tabNameSizeMm,
  TAB_HEIGHT_MM,
  TAB_ROW_MM,
  TAB_WIDTH_MM,
  underHandOn,
  type DrawnKey,
  type PlacedTab,
} from '@fivespan/formats/diagram';
import { useEffect, useMemo, useRef } from 'react';
import { useNoteText } from '../words/note-names.ts';
import styles from './TravelKeyboard.module.css';

interface TravelProps {
  readonly lowest: Midi;
  readonly highest: Midi;
  /** `mark` is the sign of its shape, as in every picture of the hand. */
  readonly hand: { readonly position: Position; readonly thumbMidi: Midi; readonly mark: string } | null;
  /** Where the thumb goes next. */
  readonly next: { readonly name: NoteName; readonly midi: Midi; readonly mark: string } | null;
  /** Room for so many rows of tabs (`rowsForTabs`): the picture stays as high as it is. */
  readonly tabRows: 1 | 2;
  readonly theme: 'light' | 'dark';
  /** What a screen reader hears. */
  readonly label: string;
}

/** From a key's front edge to a finger's numeral, and a tab's size, in the picture's millimetres. */
const FINGER_LIFT = { white: 9, black: 7.5 };
const FINGER_SIZE = { white: 15.5, black: 13 };
const TAB = { radius: 6.5, gap: 1.2, baseline: 13 };

/**
 * A keyboard over which a hand travels. The keys are drawn once; a step tints five of them anew, and the numerals and the tab
 * slide to their keys.
 */
export function TravelKeyboard({ lowest, highest, hand, next, tabRows, theme, label }: TravelProps) {
  const noteText = useNoteText();
  const palette = PALETTES[theme];
  const layout = useMemo(() => layOutKeyboard(lowest, highest), [lowest, highest]);
  const svg = useMemo(
    () => drawKeyboard({ lowest, highest, hand: null, otherThumbs: [], degrees: [] }, { theme, tabRows }),
    [lowest, highest, theme, tabRows],
  );
  const viewBox = /viewBox="([^"]*)"/u.exec(svg)?.[1];
  const keyAt = useMemo(() => new Map(layout.keys.map((key) => [key.midi, key])), [layout]);
  const keys = hand === null ? [] : keysOf(hand.position, hand.thumbMidi);

  // the thumb now hangs from its key; the next one lower where it would be covered
  const tabs = placeTabs(
    [
      ...(hand === null
        ? []
        : [{ midi: hand.thumbMidi, name: hand.position.thumb, mark: hand.mark, kind: 'now' as const }]),
      ...(next === null ? [] : [{ ...next, kind: 'next' as const }]),
    ],
    keyAt,
  );
  return (
    <div className={styles.travel} role="img" aria-label={label}>
      <Keys key={svg} svg={svg} held={keys.join(' ')} keyAt={keyAt} palette={palette} />
      <svg viewBox={viewBox} className={styles.hand} aria-hidden="true">
        {/* what hangs lower first: a tab above covers the stem that passes behind it */}
        {tabs.toReversed().map((tab) => (
          <Tab
            key={tab.kind}
            tab={tab}
            lengthMm={layout.lengthMm}
            name={noteText(tab.name) + tab.mark}
            palette={palette}
          />
        ))}
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
              fill={palette.onWhite}
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
  readonly keyAt: ReadonlyMap<Midi, DrawnKey>;
  readonly palette: (typeof PALETTES)['light' | 'dark'];
}

/** The keys, drawn once; those under the hand are tinted. */
function Keys({ svg, held, keyAt, palette }: KeysProps) {
  const box = useRef<HTMLDivElement>(null);
  const html = useMemo(() => ({ __html: svg }), [svg]);
  useEffect(() => {
    const undo = (held === '' ? [] : held.split(' ')).map((midi) => {
      const path = box.current?.querySelector<SVGPathElement>(`.key[data-midi="${midi}"]`);
      const drawn = keyAt.get(Number(midi) as Midi);
      if (path === null || path === undefined || drawn === undefined) return () => {};
      const { fill, d, inner } = underHandOn(drawn, palette);
      const plain = path.getAttribute('fill') ?? '';
      path.setAttribute('fill', fill);
      // right behind its key, so that black keys lie over a natural's line
      const line = path.ownerDocument.createElementNS(path.namespaceURI, 'path');
      for (const [name, value] of Object.entries({ d, ...inner, 'stroke-width': '1.1' }))
        line.setAttribute(name, value);
      path.after(line);
      return () => {
        path.setAttribute('fill', plain);
        line.remove();
      };
    });
    return () => {
      for (const each of undo) each();
    };
  }, [held, keyAt, palette]);
  return <div ref={box} className={styles.keys} aria-hidden="true" dangerouslySetInnerHTML={html} />;
}

interface TabProps {
  readonly tab: PlacedTab;
  readonly lengthMm: number;
  readonly name: string;
  readonly palette: (typeof PALETTES)['light' | 'dark'];
}

/** The sign of the thumb, hanging from its key; a black key's, and one that hangs lower, on a stem. */
function Tab({ tab: { key, row, kind }, lengthMm, name, palette }: TabProps) {
  const { radius, gap, baseline } = TAB;
  const width = TAB_WIDTH_MM;
  const solid = kind === 'now';
  const dashes = solid ? undefined : '2.6 2';
  const topMm = lengthMm + gap + row * TAB_ROW_MM;
  const stem = `M0 ${(key.black ? key.lengthMm : lengthMm) - topMm}V0`;
  const outline =
    `M${-width / 2} 0h${width}v${TAB_HEIGHT_MM - radius}a${radius} ${radius} 0 0 1 ${-radius} ${radius}` +
    `h${2 * radius - width}a${radius} ${radius} 0 0 1 ${-radius} ${-radius}z`;
  return (
    <g
      className={solid ? styles.slides : undefined}
      data-tab={kind}
      style={{ transform: `translate(${key.centreMm}px, ${topMm}px)` }}
    >
      {(key.black || row > 0) && (
        <>
          <path d={stem} stroke={palette.white} strokeWidth="3.4" />
          <path d={stem} stroke={palette.onWhite} strokeWidth="1.7" strokeDasharray={dashes} />
        </>
      )}
      <path
        d={outline}
        fill={solid ? palette.ink : palette.paper}
        stroke={palette.ink}
        strokeWidth="1.1"
        strokeDasharray={dashes}
      />
      <text
        y={baseline}
        textAnchor="middle"
        fontSize={tabNameSizeMm(name)}
        fontWeight="bold"
        fill={solid ? palette.paper : palette.ink}
      >
        {name}
      </text>
    </g>
  );
}
