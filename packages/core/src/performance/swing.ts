/**
 * How an off-beat eighth is played: the ratio of a beat's long part to its short part.
 * The ride cymbal's short note stays near 100 ms at medium and fast tempi, so its ratio falls with the tempo, from 3.5
 * at the slow end to even eighths. Source: Friberg & Sundström 2002 (abstract read; the curve computed from it, C).
 */
const SHORT_NOTE_SECONDS = 0.1;
const HIGHEST_RATIO = 3.5;

/** The soloist swings less than the ride: 1.2 to 1.8. Source: band of our own judgement around Corcoran & Frieler 2021 (abstract). */
const SOLOIST_LOWEST = 1.2;
const SOLOIST_HIGHEST = 1.8;
/** Share of the accompaniment's swing that a soloist takes over. Our own. */
const SOLOIST_SHARE = 0.4;

/** Most that a soloist's downbeat lies behind the beat. Source: Nelias et al. 2022: about 30 ms near 150 bpm, less when faster. */
const DELAY_AT_150_SECONDS = 0.03;
const LONGEST_DELAY_SECONDS = 0.04;

/**
 * The accompaniment's swing ratio at a tempo.
 * @param beatSeconds length of the beat that swings
 * @example accompanimentRatio(60 / 200) // → 2
 */
export function accompanimentRatio(beatSeconds: number): number {
  const ratio = (beatSeconds - SHORT_NOTE_SECONDS) / SHORT_NOTE_SECONDS;
  return Math.max(1, Math.min(HIGHEST_RATIO, ratio));
}

/** The soloist's swing ratio at a tempo: smaller, in 1.2 … 1.8, never above the accompaniment's where that is even. */
export function soloistRatio(beatSeconds: number): number {
  const accompaniment = accompanimentRatio(beatSeconds);
  const ratio = 1 + (accompaniment - 1) * SOLOIST_SHARE;
  return Math.min(accompaniment, Math.max(SOLOIST_LOWEST, Math.min(SOLOIST_HIGHEST, ratio)));
}

/** How late a soloist's downbeat is: as the beat is long, 30 ms at 150 bpm; off-beats are in time. */
export function soloistDelaySeconds(beatSeconds: number): number {
  return Math.min(LONGEST_DELAY_SECONDS, (DELAY_AT_150_SECONDS * beatSeconds) / (60 / 150));
}

/**
 * A place within a beat (0 … 1) as it is played with a swing ratio: the half comes later, the rest in proportion.
 * @example swung(0.5, 2) // → 0.6666666666666666
 */
export function swung(share: number, ratio: number): number {
  const half = ratio / (ratio + 1);
  return share <= 0.5 ? share * 2 * half : half + (share - 0.5) * 2 * (1 - half);
}
