import { isBlack, midi } from '@fivespan/core';
import { useId } from 'react';
import { keyRects } from './key-rects.ts';
import type { HandKeys } from './stage-content.ts';
import styles from './NextHand.module.css';

const WIDTH = 232;
const LENGTH = 94;
const FELT = 4;
const FEWEST_WHITES = 8;

/** The next hand as a small picture: the keys it will lie on, hatched. Its name is beside it, so nobody hears it. */
export function NextHand({ keys }: { readonly keys: HandKeys }) {
  const id = useId();
  let lowest = Math.min(...keys) - 1;
  let highest = Math.max(...keys) + 1;
  if (isBlack(lowest)) lowest--;
  const whites = (): number =>
    Array.from({ length: highest - lowest + 1 }, (_, key) => lowest + key).filter((key) => !isBlack(key)).length;
  while (whites() < FEWEST_WHITES) highest++;
  const rects = keyRects(midi(lowest), midi(highest), WIDTH, LENGTH);
  const held = new Set(keys);
  const hatched = `url(#${id})`;
  return (
    <svg className={styles.picture} viewBox={`-1 ${-FELT} ${WIDTH + 2} ${LENGTH + FELT + 1}`} aria-hidden="true">
      <defs>
        <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path d="M0 0V6" className={styles.hatch} />
        </pattern>
      </defs>
      {[...rects]
        .sort((a, b) => Number(a.black) - Number(b.black))
        .map(({ midi: key, black, x, width, length }) => (
          <g key={key}>
            <rect
              className={black && !held.has(key) ? styles.black : styles.white}
              x={x}
              y={0}
              width={width}
              height={length}
            />
            {held.has(key) && <rect x={x} y={0} width={width} height={length} fill={hatched} />}
          </g>
        ))}
      <path className={styles.frame} d={`M0 0V${LENGTH}H${WIDTH}V0`} />
      <rect className={styles.felt} x={-1} y={-FELT} width={WIDTH + 2} height={FELT} />
    </svg>
  );
}
