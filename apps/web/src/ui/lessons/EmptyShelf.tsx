import { midi } from '@fivespan/core';
import { layOutKeyboard } from '@fivespan/formats/diagram';
import { words } from '../words/index.ts';
import styles from './EmptyShelf.module.css';

const WIDTH = 760;
const LENGTH = 136;
const TOP = 30;
/** C and the fifths beside it in two octaves: any three thumbs would do. */
const THUMBS = [60, 65, 67, 72, 77, 79];

/** A page with nothing on it, on the stand over a keyboard that waits. */
export function EmptyShelf() {
  const layout = layOutKeyboard(midi(53), midi(88));
  const scale = WIDTH / layout.widthMm;
  const keys = layout.keys.map(({ midi: key, black, xMm, widthMm, centreMm }) => ({
    key,
    black,
    x: xMm * scale,
    width: widthMm * scale,
    centre: centreMm * scale,
  }));
  const { nothing } = words.lessons;
  return (
    <svg className={styles.picture} viewBox={`-2 -188 ${WIDTH + 4} 386`} role="img" aria-label={nothing.drawn}>
      <path className={styles.page} d="M80 0V-186h600V0" />
      <text className={styles.title} x="115" y="-134">
        {nothing.tune}
      </text>
      <path className={styles.dots} d="M115 -124h260" />
      <path className={styles.bar} d="M115.5 -98v64M247.5 -98v64M380.5 -98v64M512.5 -98v64M639.5 -98v64M644.5 -98v64" />
      <path className={styles.caret} d="M127 -88v28" />
      <text className={styles.hint} x="127" y="-42">
        {nothing.chord}
      </text>
      <path className={styles.stand} d={`M0 4.5H${WIDTH}`} />
      {[...keys]
        .sort((a, b) => Number(a.black) - Number(b.black))
        .map(({ key, black, x, width }) => (
          <rect
            key={key}
            className={black ? styles.black : styles.white}
            x={x}
            y={TOP}
            width={width}
            height={black ? LENGTH * 0.61 : LENGTH}
          />
        ))}
      <rect className={styles.felt} x={-1} y={TOP - 6} width={WIDTH + 2} height={6} />
      {keys
        .filter(({ key }) => THUMBS.includes(key))
        .map(({ key, centre }) => (
          <path
            key={key}
            className={styles.tab}
            d={`M${centre - 13} ${TOP + LENGTH - 2}h26v17a11 11 0 0 1 -11 11h-4a11 11 0 0 1 -11 -11z`}
          />
        ))}
    </svg>
  );
}
