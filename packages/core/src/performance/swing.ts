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

/** How far a soloist's downbeat is behind the beat. Source: Nelias et al. 2022: about 30 ms near 150 bpm, less when faster. */
const DELAY_AT_150_SECONDS = 0.03;
const LONGEST_DELAY_SECONDS = 0.04;

/** How a player places eighths: a swing ratio, and how late the whole beat is. */
export interface Swing {
  /** From one's own downbeat: the long part over the short part. */
  readonly ratio: number;
  readonly delaySeconds: number;
}

/** Straight eighths on the beat. */
export const EVEN: Swing = { ratio: 1, delaySeconds: 0 };

/**
 * The accompaniment's swing: in time, with the ride cymbal's ratio at a tempo.
 * @param beatSeconds length of the beat that swings
 * @example accompanimentSwing(60 / 200).ratio // → 2
 */
export function accompanimentSwing(beatSeconds: number): Swing {
  const ratio = (beatSeconds - SHORT_NOTE_SECONDS) / SHORT_NOTE_SECONDS;
  return { ratio: Math.max(1, Math.min(HIGHEST_RATIO, ratio)), delaySeconds: 0 };
}

/**
 * The soloist's swing: downbeats late, off-beats together with the accompaniment's, and so a smaller ratio. Where both will
 * not go, the ratio stays in 1.2 … 1.8: at slow tempi the off-beat comes before the ride's, at fast ones the downbeat
 * is less late. Source: Friberg & Sundström 2002 (abstract: soloists' ratio smaller, downbeats late, off-beats synchronous).
 * @param beatSeconds length of the beat that swings
 * @example soloistSwing(60 / 200) // → { ratio: 1.449…, delaySeconds: 0.0225 }
 */
export function soloistSwing(beatSeconds: number): Swing {
  const wished = Math.min(LONGEST_DELAY_SECONDS, (DELAY_AT_150_SECONDS * beatSeconds) / (60 / 150));
  const offBeat = beatSeconds * swung(0.5, accompanimentSwing(beatSeconds).ratio);
  const latest = offBeat - beatSeconds * swung(0.5, SOLOIST_LOWEST);
  const delaySeconds = Math.max(0, Math.min(wished, latest));
  const together = (offBeat - delaySeconds) / (beatSeconds - offBeat + delaySeconds);
  return { ratio: Math.max(SOLOIST_LOWEST, Math.min(SOLOIST_HIGHEST, together)), delaySeconds };
}

/**
 * A place within a beat (0 … 1) as it is played with a swing ratio: the half comes later, the rest in proportion.
 * @example swung(0.5, 2) // → 0.6666666666666666
 */
export function swung(share: number, ratio: number): number {
  const half = ratio / (ratio + 1);
  return share <= 0.5 ? share * 2 * half : half + (share - 0.5) * 2 * (1 - half);
}
