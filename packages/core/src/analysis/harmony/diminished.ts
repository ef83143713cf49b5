import type { Key } from '../../theory/index.ts';
import type { Role } from '../analysis.ts';
import type { ReasonCode } from '../reasons.ts';
import type { HarmonicEvent, Surroundings } from './event.ts';
import { modeOfClass, type HarmonicFunction, type NumeralStyle } from './harmonic-function.ts';

type Mode = Key['mode'];

/** Places of a key on which a chord of the key stands. */
const STEPS: Readonly<Record<Mode, ReadonlySet<number>>> = {
  major: new Set([0, 2, 4, 5, 7, 9, 11]),
  minor: new Set([0, 2, 3, 5, 7, 8, 10, 11]),
};

/** Diminished chords: a step below or above what follows, or on the root of a neighbour. Common practice. */
export function diminished(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
  if (event.chordClass !== 'o') return [];
  const { next, toNext, toPrevious, previous, toNextBass } = around;
  const steps = STEPS[mode];
  const nextPlace = (place + toNext) % 12;
  const previousPlace = (place + toPrevious) % 12;
  const make = (code: ReasonCode, role: Role, cost: number, style: NumeralStyle = 'degree'): HarmonicFunction => ({
    role,
    code,
    style,
    cost,
    debt: 0,
    target: nextPlace,
    targetMode: modeOfClass(next.chordClass),
    goalCase: null,
    isHome: false,
  });
  if ((toNext === 0 || (next.chord.bass === null && toPrevious === 0)) && steps.has(place)) {
    return [make('diminished.auxiliary', 'auxiliary diminished', place === 0 || place === 7 ? 2 : 3)];
  }
  // a second inversion of I counts as its bass: F#°7 → C/G
  if (toNext === 1 && steps.has(nextPlace)) return [make('diminished.up', 'passing diminished', 2)];
  if (toNext === 11 && steps.has(nextPlace)) {
    return [make('diminished.down', 'passing diminished', previous.chordClass !== 'o' && toPrevious === 1 ? 2 : 3)];
  }
  if (toNextBass === 1 || toNextBass === 11) return [make('diminished.bass', 'passing diminished', 2)];
  if (place === 6 && (nextPlace === 0 || nextPlace === 7 || nextPlace === 5 || nextPlace === 4)) {
    return [make('diminished.fourth', 'passing diminished', 3)];
  }
  // any of its four roots may be the leading note: a dominant b9 without its root
  const leads = [0, 3, 6, 9].some((inversion) => (place + inversion + 1) % 12 === nextPlace);
  if (leads && steps.has(nextPlace)) return [make('diminished.leading', 'passing diminished', 4)];
  if (steps.has(previousPlace) && steps.has(nextPlace)) return [make('diminished.loose', 'passing diminished', 6)];
  return [];
}
