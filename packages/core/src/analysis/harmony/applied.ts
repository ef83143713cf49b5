import type { Key } from '../../theory/index.ts';
import type { ReasonCode } from '../reasons.ts';
import { isTonicMinor, type ChordClass, type HarmonicEvent, type Surroundings } from './event.ts';
import { modeOfClass, modeOfGoal, type HarmonicFunction } from './harmonic-function.ts';

type Mode = Key['mode'];

/** Degrees that may be leaned on for a while, with the mode of their plain chord and what that costs. Common practice. */
const LEANED_ON: Readonly<Record<Mode, Readonly<Record<number, readonly [mode: Mode, cost: number]>>>> = {
  major: {
    2: ['minor', 2],
    4: ['minor', 3],
    5: ['major', 2],
    7: ['major', 2],
    9: ['minor', 2],
    11: ['minor', 4],
    3: ['major', 6],
    8: ['major', 6],
    10: ['major', 5],
  },
  minor: {
    3: ['major', 2],
    5: ['minor', 2],
    7: ['minor', 2],
    8: ['major', 3],
    10: ['major', 3],
    2: ['minor', 4],
    1: ['major', 6],
    9: ['minor', 6],
    11: ['minor', 6],
  },
};

/** What a chord with a dominant's duty costs when nothing answers it. */
const UNANSWERED = 5;
/** … when its answer comes after another chord of the same errand. */
const DELAYED = 1;

const DEBT_OF_ANSWER: Readonly<Record<Answer, number>> = {
  answered: 0,
  'by substitute': DELAYED,
  delayed: DELAYED,
  none: UNANSWERED,
};

/** What the ii of another degree owes until the dominant after it is read as going to the same degree; given back then. */
export const ALONE = 6;

const CAN_LEAD: ReadonlySet<ChordClass> = new Set(['D', 's', '+', 'T']);

type Answer = 'answered' | 'by substitute' | 'delayed' | 'none';

/**
 * Whether what follows answers a dominant whose goal lies `toGoal` semitones up: by the goal itself, or, later, over
 * its tritone substitute (D7 Db7 for D7 G7), the goal's own ii (D7 Dm7 G7), or over another dominant of the same goal (Db7 G7 C), or over its own ii (G7 Dm7 G7).
 */
function answerOf(toGoal: number, around: Surroundings): Answer {
  const { next, afterNext, toNext, toAfterNext } = around;
  if (toNext === toGoal && next.chordClass !== 'o') return 'answered';
  const isTwo = next.chordClass === 'm' || next.chordClass === 'h';
  const isDominant = next.chordClass === 'D' || next.chordClass === 's' || next.chordClass === '+';
  if (isTwo && toNext === (toGoal + 7) % 12 && toAfterNext === toGoal && afterNext.chordClass === 'D') return 'delayed';
  if (isTwo && toNext === (toGoal + 2) % 12 && [(toGoal + 7) % 12, (toGoal + 1) % 12].includes(toAfterNext)) {
    return 'delayed';
  }
  if (next.chordClass === 'D' && toNext === (toGoal + 6) % 12) return 'by substitute';
  if (isDominant && [(toGoal + 7) % 12, (toGoal + 1) % 12].includes(toNext)) return 'delayed';
  return 'none';
}

const APPLIED_CODES: Readonly<Record<Answer, ReasonCode>> = {
  answered: 'applied',
  'by substitute': 'applied.by-substitute',
  delayed: 'applied.delayed',
  none: 'applied.unanswered',
};

const SUBSTITUTE_CODES: Readonly<Record<Answer, ReasonCode>> = {
  answered: 'substitute',
  'by substitute': 'substitute.delayed',
  delayed: 'substitute.delayed',
  none: 'substitute.unanswered',
};

/** A dominant towards a degree of the key, by a fifth or by the half step above. */
export function leading(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
  if (!CAN_LEAD.has(event.chordClass)) return [];
  const found: HarmonicFunction[] = [];
  for (const [down, style] of [
    [7, 'V of'],
    [1, 'subV of'],
  ] as const) {
    const target = (place - down + 12) % 12;
    const isSubstitute = style === 'subV of';
    if (isSubstitute && event.chordClass !== 'D') continue;
    const answer = answerOf((12 - down) % 12, around);
    if (event.chordClass === 'T' && answer !== 'answered') continue;
    if (target === 0) {
      if (!isSubstitute) continue; // V itself stands in the plain table
      found.push({
        role: 'substitute dominant',
        code: SUBSTITUTE_CODES[answer],
        style,
        cost: 1,
        debt: DEBT_OF_ANSWER[answer],
        target,
        targetMode: mode,
        goalCase: null,
        isHome: false,
      });
      continue;
    }
    const leanedOn = LEANED_ON[mode][target];
    if (leanedOn === undefined) continue;
    const [plainMode, cost] = leanedOn;
    const triadCost = event.chordClass === 'T' ? 2 : 0;
    found.push({
      role: isSubstitute ? 'substitute dominant' : 'applied dominant',
      code: (isSubstitute ? SUBSTITUTE_CODES : APPLIED_CODES)[answer],
      style,
      cost: cost + triadCost + (isSubstitute ? 1 : 0),
      debt: DEBT_OF_ANSWER[answer],
      target,
      targetMode: answer === 'answered' ? modeOfGoal(around.next.chordClass, plainMode) : plainMode,
      goalCase: caseOfGoal(target, plainMode, answer === 'answered' ? around.next : null),
      isHome: false,
    });
  }
  return found;
}

/** How a goal is written: as the chord that comes there; a V is upper case unless a minor chord stands on it. */
function caseOfGoal(target: number, plainMode: Mode, goal: HarmonicEvent | null): Mode {
  if (target === 7) return goal !== null && modeOfClass(goal.chordClass) === 'minor' ? 'minor' : 'major';
  return goal === null ? plainMode : modeOfGoal(goal.chordClass, plainMode);
}

/** A m6 or m(maj7) that its own dominant leads to and that lasts more than a bar is home for that time, whatever follows it. */
function isArrivedAt(event: HarmonicEvent, { previous, toPrevious }: Surroundings): boolean {
  return isTonicMinor(event) && event.weight >= 3 && toPrevious === 7 && previous.chordClass === 'D';
}

/** A minor or half-diminished chord before the dominant of another degree: its ii. */
export function appliedTwo(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
  if (event.chordClass !== 'm' && event.chordClass !== 'h') return [];
  if (around.next.chordClass !== 'D' && around.next.chordClass !== 's' && around.next.chordClass !== '+') return [];
  const bySubstitute = around.toNext === 11;
  if (around.toNext !== 5 && !bySubstitute) return [];
  if (isArrivedAt(event, around)) return [];
  const found: HarmonicFunction[] = [];
  const target = (place + 10) % 12;
  const leanedOn = LEANED_ON[mode][target];
  if (leanedOn !== undefined) {
    const [plainMode, cost] = leanedOn;
    const fits = (event.chordClass === 'h') === (plainMode === 'minor');
    found.push({
      role: 'applied predominant',
      code: 'applied.two',
      style: 'ii of',
      // the chord that belongs there, before its own V, is heard as that ii first
      cost: cost + (fits ? -1 : 1),
      debt: ALONE,
      target,
      targetMode: event.chordClass === 'h' ? 'minor' : plainMode,
      goalCase: caseOfGoal(target, plainMode, around.toAfterNext === 10 ? around.afterNext : null),
      isHome: false,
    });
  }
  // the ii that stands before a substitute as if that were the V of its own key: Abm7 Db7 | Cmaj7
  const substituteTarget = (place + 4) % 12;
  if (!bySubstitute && (substituteTarget === 0 || LEANED_ON[mode][substituteTarget] !== undefined)) {
    const cost = substituteTarget === 0 ? 2 : 1 + (LEANED_ON[mode][substituteTarget]?.[1] ?? 0);
    found.push({
      role: 'applied predominant',
      code: 'substitute.two',
      style: 'degree',
      cost: cost + 1,
      debt: ALONE,
      target: substituteTarget,
      targetMode: substituteTarget === 0 ? mode : (LEANED_ON[mode][substituteTarget]?.[0] ?? null),
      goalCase: null,
      isHome: false,
    });
  }
  return found;
}

/** iv and bVII7 on their way home, and bVII7 on its own. Common practice ('backdoor'). */
export function backdoor(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
  if (mode === 'minor') return [];
  const base = { style: 'degree', target: 0, targetMode: mode, goalCase: null, isHome: false } as const;
  if (place === 10 && event.chordClass === 'D') {
    const goesHome = [2, 6, 11].includes(around.toNext) && around.next.chordClass !== 'D'; // to I, iii or vi
    const answered = { code: 'backdoor', cost: 2, debt: 0 } as const;
    const unanswered = { code: 'backdoor.unanswered', cost: 4, debt: 2 } as const;
    return [{ ...base, role: 'backdoor dominant', ...(goesHome ? answered : unanswered) }];
  }
  if (place === 5 && event.chordClass === 'm') {
    const toBackdoor = around.toNext === 5 && around.next.chordClass === 'D';
    const goesHome = around.toNext === 7 && modeOfClass(around.next.chordClass) === 'major';
    if (toBackdoor) return [{ ...base, role: 'backdoor predominant', code: 'backdoor.two', cost: 2, debt: 0 }];
    if (goesHome) return [{ ...base, role: 'borrowed', code: 'minor-subdominant', cost: 2, debt: 0 }];
  }
  return [];
}
