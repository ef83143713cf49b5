import { words } from '../words/index.ts';
import styles from './Roughness.module.css';

const WIDTH = 84;
const HEIGHT = 12;
/** Strokes of the hatching at no roughness and at the roughest there is; ours. */
const STROKES = { least: 3, most: 30 };

/** How rough a scale sounds, as hatching: the rougher, the closer its strokes. A screen reader hears the number. */
export function Roughness({ value }: { readonly value: number }) {
  const count = Math.round(STROKES.least + value * (STROKES.most - STROKES.least));
  const step = (WIDTH - HEIGHT / 2) / count;
  const strokes = Array.from({ length: count }, (_, index) => `M${(index * step).toFixed(1)} ${HEIGHT}l6 -${HEIGHT}`);
  return (
    <span className={styles.rough}>
      <svg viewBox={`0 -1 ${WIDTH} ${HEIGHT + 2}`} width={WIDTH} height={HEIGHT + 2} aria-hidden="true">
        <path className={styles.base} d={`M0 ${HEIGHT + 0.5}H${WIDTH}`} />
        <path d={strokes.join('')} />
      </svg>
      <span>
        <span className="unseen">{words.study.roughness} </span>
        {value.toFixed(2)}
      </span>
    </span>
  );
}
