import { appliedTwo, backdoor, leading } from './applied.ts';
import { diminished } from './diminished.ts';
import type { HarmonicEvent, Surroundings } from './event.ts';
import { modeOf, type FunctionMode, type HarmonicFunction } from './harmonic-function.ts';
import { keyChord } from './key-chords.ts';

/** What a chord costs whose place in the key is not explained at all. */
const UNEXPLAINED = 12;

/** A chord that leaves its neighbour by a half step and comes back to it, of one kind with it: Dm7 Ebm7 Dm7. Common practice. */
function sideStep(event: HarmonicEvent, { next, previous, toNext, toPrevious }: Surroundings): HarmonicFunction[] {
  const isStep = toNext === toPrevious && (toNext === 1 || toNext === 11) && event.weight < 4;
  const isSame = [next, previous].every(({ sounding }) => sounding.suffix === event.sounding.suffix);
  if (!isStep || !isSame || event.chordClass !== 'm') return [];
  const role = { role: 'borrowed', code: 'side-step', style: 'degree', cost: 3, debt: 0 } as const;
  return [{ ...role, target: null, targetMode: null, goalCase: null, isHome: false }];
}

/**
 * All a chord may do in a key of this mode, `place` semitones above its tonic. Never empty: what nothing explains is
 * 'unexplained' at a high cost.
 */
export function functionsIn(
  mode: FunctionMode,
  place: number,
  event: HarmonicEvent,
  around: Surroundings,
): readonly HarmonicFunction[] {
  const keyMode = modeOf(mode);
  // where two cost the same the first wins: a chord before its own V is heard as that V's ii
  const found: HarmonicFunction[] = [
    ...appliedTwo(keyMode, place, event, around),
    ...keyChord(mode, place, event, around),
    ...leading(keyMode, place, event, around),
    ...backdoor(keyMode, place, event, around),
    ...diminished(keyMode, place, event, around),
    ...sideStep(event, around),
  ];
  if (found.length === 0) {
    found.push({
      role: 'unexplained',
      code: 'unexplained',
      style: 'degree',
      cost: UNEXPLAINED,
      debt: 0,
      target: null,
      targetMode: null,
      goalCase: null,
      isHome: false,
    });
  }
  return found;
}
