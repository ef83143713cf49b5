import { appliedTwo, backdoor, leading } from './applied.ts';
import { diminished } from './diminished.ts';
import type { HarmonicEvent, Surroundings } from './event.ts';
import { modeOf, type FunctionMode, type HarmonicFunction } from './harmonic-function.ts';
import { keyChord } from './key-chords.ts';

/** What a chord costs whose place in the key is not explained at all. */
const UNEXPLAINED = 12;

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
