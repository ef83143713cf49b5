import type { StageBeats } from './stage-content.ts';
import styles from './Stage.module.css';

const STEP = 58;
const WIDTH = 22;
const LEAN = 23;
const HEIGHT = 51;

/** The beats of a bar, as slashes stand in a lead sheet: filled as they begin. */
export function Slashes({ beat, beats, label }: StageBeats) {
  const width = (beats - 1) * STEP + WIDTH + LEAN + 3;
  return (
    <svg className={styles.slashes} viewBox={`0 0 ${width} ${HEIGHT + 3}`} role="img" aria-label={label}>
      {Array.from({ length: beats }, (_, each) => (
        <path
          key={each}
          className={each <= beat ? styles.begun : styles.coming}
          d={`M${each * STEP + 1.5} ${HEIGHT + 1.5}h${WIDTH}l${LEAN} ${-HEIGHT}h${-WIDTH}z`}
        />
      ))}
    </svg>
  );
}
