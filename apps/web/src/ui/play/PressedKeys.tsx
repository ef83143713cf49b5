import type { Midi } from '@fivespan/core';
import { drawKeyboard, layOutKeyboard, PALETTES } from '@fivespan/formats/diagram';
import { useMemo } from 'react';
import { $pressed } from '../../features/sound/index.ts';
import { keyOutline } from '../keyboard/key-outline.ts';
import { useStore } from '../use-store.ts';
import styles from './PressedKeys.module.css';

interface PressedProps {
  readonly lowest: Midi;
  readonly highest: Midi;
  readonly theme: 'light' | 'dark';
  /** As the picture under it has it. */
  readonly tabRows: number;
}

/** What is pressed, over a keyboard picture: an outline and a dot on each key, round the black keys. No key is tinted by it. */
export function PressedKeys({ lowest, highest, theme, tabRows }: PressedProps) {
  const pressed = useStore($pressed);
  const keys = useMemo(
    () =>
      layOutKeyboard(lowest, highest).keys.map(({ midi, xMm, widthMm, lengthMm, centreMm, black }) => ({
        midi,
        black,
        x: xMm,
        width: widthMm,
        length: lengthMm,
        centre: centreMm,
      })),
    [lowest, highest],
  );
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
      {keys
        .filter(({ midi }) => pressed.has(midi))
        .map((key) => (
          <g key={key.midi} data-pressed={key.midi}>
            <path
              d={keyOutline(key, keys, 1.4)}
              fill="none"
              stroke={key.black ? onBlack : onWhite}
              strokeWidth={1.8}
              strokeLinejoin="round"
            />
            <circle
              cx={key.centre}
              cy={key.black ? key.length - 25 : key.length - 34}
              r={3.1}
              fill={key.black ? onBlack : onWhite}
              stroke={key.black ? onWhite : white}
              strokeWidth={1}
            />
          </g>
        ))}
    </svg>
  );
}
