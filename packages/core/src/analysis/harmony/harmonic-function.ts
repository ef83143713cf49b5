import type { Key } from '../../theory/index.ts';
import type { Role } from '../analysis.ts';
import type { ReasonCode } from '../reasons.ts';
import type { ChordClass } from './event.ts';

/** How the numeral is written: the chord's own degree, or what it does towards another degree. */
export type NumeralStyle = 'degree' | 'V of' | 'subV of' | 'ii of';

/** One thing a chord may do in a key. Distances are semitones above the key's tonic, 0 to 11. */
export interface HarmonicFunction {
  readonly role: Role;
  readonly code: ReasonCode;
  readonly style: NumeralStyle;
  /** For each unit of the event's weight. */
  readonly cost: number;
  /** Once, however long the chord lasts: a dominant that is not answered. */
  readonly debt: number;
  readonly target: number | null;
  readonly targetMode: Key['mode'] | null;
  /** How the numeral writes the goal: V7/V where a seventh chord is the goal, though the key's mode is minor. */
  readonly goalCase: Key['mode'] | null;
  /** Whether the chord is the key's I and at rest: a seventh chord in a blues only. */
  readonly isHome: boolean;
}

/** A key's mode as far as functions depend on it: a blues is major with I7 and IV7 at home. */
export type FunctionMode = Key['mode'] | 'blues';

/** The mode of the key's own notes: a blues counts as major. */
export function modeOf(mode: FunctionMode): Key['mode'] {
  return mode === 'minor' ? 'minor' : 'major';
}

const MINOR_THIRD: ReadonlySet<ChordClass> = new Set(['m', 'h', 'o']);

/** The mode of a chord as something led to. A dominant has a major third. */
export function modeOfClass(chordClass: ChordClass): Key['mode'] {
  return MINOR_THIRD.has(chordClass) ? 'minor' : 'major';
}

/** The mode of a goal as it comes; a goal that is a dominant itself tells nothing, the degree's plain chord does. */
export function modeOfGoal(chordClass: ChordClass, plainMode: Key['mode']): Key['mode'] {
  return chordClass === 'D' || chordClass === 's' || chordClass === 'p' || chordClass === '+'
    ? plainMode
    : modeOfClass(chordClass);
}
