import type { Midi } from '../../theory/index.ts';
import type { HandSize } from '../hand-size.ts';
import type { Finger } from '../position.ts';
import { rateFingering } from './fingering.ts';
import { fingeringModel } from './model.ts';

/** A key under a finger of the right hand. */
export interface FingerOnKey {
  readonly key: Midi;
  readonly finger: Finger;
}

/**
 * Whether a hand goes from one key to the next without leaping: the two fingers reach them in practice, the thumb passing under
 * where it must. Practical spans: Balliauw and others 2017, for the hand's size.
 * @example isPracticalStep({ key: midi(64), finger: 3 }, { key: midi(65), finger: 1 }, 'medium') // → true
 */
export function isPracticalStep(from: FingerOnKey, to: FingerOnKey, hand: HandSize): boolean {
  const line = [from, to].map(({ key }) => [key]);
  const fingers = [from, to].map(({ finger }) => [finger]);
  const { beyondPractical } = rateFingering(line, fingers, { side: 'right', model: fingeringModel('balliauw', hand) });
  return beyondPractical === 0;
}
