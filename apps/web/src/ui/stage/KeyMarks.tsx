import type { KeyRect } from './key-rects.ts';
import type { StageMark } from './stage-content.ts';
import styles from './KeyMarks.module.css';

const MOST_RADIUS_PX = 10;

/** Where a key is seen between the black ones: its middle there, and how wide. */
function seenOf(key: KeyRect, rects: readonly KeyRect[]): { readonly x: number; readonly width: number } {
  if (key.black) return { x: key.centre, width: key.width };
  let [from, to] = [key.x, key.x + key.width];
  for (const { black, x, width } of rects) {
    if (!black || x >= key.x + key.width || x + width <= key.x) continue;
    if (x <= key.x) from = x + width;
    else to = x;
  }
  return { x: (from + to) / 2, width: to - from };
}

interface KeyMarksProps {
  readonly marks: readonly StageMark[];
  readonly rects: readonly KeyRect[];
  readonly widthPx: number;
  readonly blackLengthPx: number;
}

/**
 * Keys that are down: a filled ring inside what the hand may play, an open one outside, a cross on a note that must not stay and
 * does. What is beyond the picture stands at its edge. Nothing is praised.
 */
export function KeyMarks({ marks, rects, widthPx, blackLengthPx }: KeyMarksProps) {
  const [lowest, highest] = [rects[0]?.midi ?? 0, rects.at(-1)?.midi ?? 127];
  const y = blackLengthPx * 0.42;
  return marks.map(({ midi, sign }) => {
    const key = rects.find((each) => each.midi === midi);
    if (key === undefined) {
      const isBelow = midi < lowest;
      if (!isBelow && midi <= highest) return null;
      const x = isBelow ? 24 : widthPx - 24;
      const away = isBelow ? -1 : 1;
      return (
        <g key={midi} data-pressed={midi} data-sign={sign} data-beyond={isBelow ? 'below' : 'above'}>
          <rect className={styles.ground} x={x - 22} y={y - 16} width={44} height={32} rx={3} />
          <path className={styles.arrow} d={`M${x + away * 10} ${y - 8}l${away * 7} 8l${-away * 7} 8`} />
          <Sign sign={sign} x={x - away * 6} y={y} radius={8} isOnBlack={false} />
        </g>
      );
    }
    const { x, width } = seenOf(key, rects);
    return (
      <g key={midi} data-pressed={midi} data-sign={sign}>
        <Sign
          sign={sign}
          x={x}
          y={y}
          radius={Math.max(4, Math.min(MOST_RADIUS_PX, width / 2 - 2))}
          isOnBlack={key.black}
        />
      </g>
    );
  });
}

interface SignProps {
  readonly sign: StageMark['sign'];
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly isOnBlack: boolean;
}

function Sign({ sign, x, y, radius, isOnBlack }: SignProps) {
  const place = isOnBlack ? styles.onBlack : styles.onWhite;
  if (sign === 'stays') {
    const arm = radius * 0.85;
    return (
      <path
        className={`${styles.cross} ${place}`}
        d={`M${x - arm} ${y - arm}L${x + arm} ${y + arm}M${x + arm} ${y - arm}L${x - arm} ${y + arm}`}
      />
    );
  }
  return (
    <circle
      className={`${sign === 'inside' ? styles.inside : styles.outside} ${place}`}
      cx={x}
      cy={y}
      r={sign === 'inside' ? radius : radius - 1}
    />
  );
}
