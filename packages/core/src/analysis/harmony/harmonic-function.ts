import { degree, degreeOnStep, type Key } from '../../theory/index.ts';
import type { Role } from '../analysis.ts';
import type { ReasonCode } from '../reasons.ts';
import type { ChordClass, HarmonicEvent, Surroundings } from './event.ts';

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
  /** Whether the chord is the key's I. */
  readonly isHome: boolean;
}

/** A key's mode as functions are told by it: a blues is major with I7 and IV7 at home. */
export type FunctionMode = Key['mode'] | 'blues';

type Mode = Key['mode'];
type CostTable = Readonly<Record<number, readonly [cost: number, role: Role, code: ReasonCode]>>;

/** What a chord costs whose place in the key is not explained at all. */
export const UNEXPLAINED = 12;

/**
 * Chords that need no neighbour to be understood, by class and by semitones above the tonic: what belongs to the key costs
 * least, what the parallel key lends costs more. Source of the list: common practice (diatonic chords, modal interchange,
 * the blues' I7 and IV7); the costs are ours: 0 the key's own pillars, 1–2 its other chords, 3–6 lent ones, 8 rare.
 */
const PLAIN: Readonly<Record<Mode, Readonly<Partial<Record<ChordClass, CostTable>>>>> = {
  major: {
    M: {
      0: [0, 'tonic', 'tonic'],
      5: [1, 'predominant', 'predominant'],
      1: [5, 'borrowed', 'borrowed'],
      3: [5, 'borrowed', 'borrowed'],
      8: [5, 'borrowed', 'borrowed'],
      10: [5, 'borrowed', 'borrowed'],
      7: [6, 'dominant', 'diatonic'],
    },
    T: {
      0: [0, 'tonic', 'tonic'],
      5: [1, 'predominant', 'predominant'],
      7: [0, 'dominant', 'dominant'],
      1: [5, 'borrowed', 'borrowed'],
      3: [5, 'borrowed', 'borrowed'],
      8: [5, 'borrowed', 'borrowed'],
      10: [4, 'borrowed', 'borrowed'],
    },
    m: {
      2: [0, 'predominant', 'predominant'],
      4: [1, 'tonic', 'tonic.stand-in'],
      9: [1, 'tonic', 'tonic.stand-in'],
      5: [4, 'borrowed', 'borrowed'],
      7: [5, 'borrowed', 'borrowed'],
      0: [7, 'borrowed', 'borrowed'],
    },
    D: {
      7: [0, 'dominant', 'dominant'],
      0: [3, 'tonic', 'blues.tonic'],
      5: [3, 'predominant', 'blues.subdominant'],
      10: [5, 'borrowed', 'borrowed'],
    },
    h: {
      11: [2, 'dominant', 'leading-note'],
      2: [2, 'predominant', 'minor-two'],
      6: [3, 'predominant', 'raised-fourth'],
    },
    o: { 11: [2, 'dominant', 'leading-note'] },
    '+': { 7: [2, 'dominant', 'dominant'], 0: [4, 'tonic', 'tonic.raised-fifth'] },
    s: { 7: [0, 'dominant', 'dominant'], 0: [3, 'tonic', 'tonic.suspended'], 5: [3, 'predominant', 'predominant'] },
    p: { 0: [0, 'tonic', 'tonic'], 5: [1, 'predominant', 'predominant'], 7: [1, 'dominant', 'dominant'] },
  },
  minor: {
    M: {
      3: [2, 'tonic', 'tonic.stand-in'],
      8: [1, 'predominant', 'diatonic'],
      1: [3, 'predominant', 'flat-second'],
      10: [3, 'borrowed', 'diatonic'],
      5: [4, 'predominant', 'melodic-minor'],
      0: [7, 'tonic', 'raised-third'],
    },
    T: {
      3: [2, 'tonic', 'tonic.stand-in'],
      8: [1, 'predominant', 'diatonic'],
      10: [2, 'dominant', 'diatonic'],
      7: [0, 'dominant', 'dominant'],
      1: [3, 'predominant', 'flat-second'],
      5: [4, 'predominant', 'melodic-minor'],
      0: [7, 'tonic', 'raised-third'],
    },
    m: {
      0: [0, 'tonic', 'tonic'],
      5: [1, 'predominant', 'predominant'],
      7: [3, 'dominant', 'diatonic'],
      2: [3, 'predominant', 'melodic-minor'],
    },
    D: {
      7: [0, 'dominant', 'dominant'],
      5: [3, 'predominant', 'melodic-minor'],
      0: [6, 'tonic', 'blues.tonic'],
      10: [4, 'dominant', 'diatonic'],
    },
    h: {
      2: [0, 'predominant', 'predominant'],
      9: [2, 'tonic', 'melodic-minor'],
      6: [3, 'predominant', 'raised-fourth'],
    },
    o: { 11: [1, 'dominant', 'leading-note'] },
    '+': { 7: [1, 'dominant', 'dominant'], 3: [3, 'tonic', 'melodic-minor'] },
    s: { 7: [0, 'dominant', 'dominant'], 0: [4, 'tonic', 'tonic.suspended'], 5: [3, 'predominant', 'predominant'] },
    p: { 0: [0, 'tonic', 'tonic'], 5: [1, 'predominant', 'predominant'], 7: [1, 'dominant', 'dominant'] },
  },
};

/** What a blues has of its own; all else is as in major. Source: common practice (I7, IV7, V7 in twelve bars). */
const BLUES: Readonly<Partial<Record<ChordClass, CostTable>>> = {
  M: { 0: [3, 'tonic', 'tonic'] },
  T: { 0: [1, 'tonic', 'tonic'] },
  D: {
    0: [0, 'tonic', 'blues.tonic'],
    5: [0, 'predominant', 'blues.subdominant'],
    7: [1, 'dominant', 'dominant'],
  },
  s: {
    0: [0, 'tonic', 'blues.tonic'],
    5: [0, 'predominant', 'blues.subdominant'],
    7: [1, 'dominant', 'dominant'],
  },
};

/** The mode of the key's own notes: a blues counts as major. */
export function modeOf(mode: FunctionMode): Mode {
  return mode === 'minor' ? 'minor' : 'major';
}

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
export const ALONE = 3;

const SIXTH = degree('6');
const MAJOR_SEVENTH = degree('7');

const MINOR_THIRD: ReadonlySet<ChordClass> = new Set(['m', 'h', 'o']);
const CAN_LEAD: ReadonlySet<ChordClass> = new Set(['D', 's', '+', 'T']);

/** The mode of a chord as something led to. A dominant has a major third. */
export function modeOfClass(chordClass: ChordClass): Mode {
  return MINOR_THIRD.has(chordClass) ? 'minor' : 'major';
}

type Answer = 'answered' | 'by substitute' | 'delayed' | 'none';

/**
 * Whether what follows answers a dominant whose goal lies `toGoal` semitones up: by the goal itself, or, later, over
 * its tritone substitute (D7 Db7 for D7 G7), the goal's own ii (D7 Dm7 G7), or over another dominant of the same goal (Db7 G7 C), or over its own ii (G7 Dm7 G7).
 */
export function answerOf(toGoal: number, around: Surroundings): Answer {
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

/** What a minor predominant owes that lies more than two bars and then goes to no dominant of its own: it is rather somebody's I. */
const RESTING = 4;

function isResting(event: HarmonicEvent, around: Surroundings): boolean {
  return event.chordClass === 'm' && event.weight === 4 && !(around.toNext === 5 && around.next.chordClass !== 'm');
}

/** A minor chord with a sixth or a major seventh. */
export function isTonicMinor({ chord, chordClass }: HarmonicEvent): boolean {
  if (chordClass !== 'm') return false;
  const seventh = degreeOnStep(chord, 6);
  return seventh === undefined ? chord.degrees.includes(SIXTH) : seventh === MAJOR_SEVENTH;
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
function leading(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
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

/** The mode of a goal as it comes; a goal that is a dominant itself tells nothing, the degree's plain chord does. */
function modeOfGoal(chordClass: ChordClass, plainMode: Mode): Mode {
  return chordClass === 'D' || chordClass === 's' || chordClass === 'p' || chordClass === '+'
    ? plainMode
    : modeOfClass(chordClass);
}

/** How a goal is written: as the chord that comes there; a V is upper case unless a minor chord stands on it. */
function caseOfGoal(target: number, plainMode: Mode, goal: HarmonicEvent | null): Mode {
  if (target === 7) return goal !== null && modeOfClass(goal.chordClass) === 'minor' ? 'minor' : 'major';
  return goal === null ? plainMode : modeOfGoal(goal.chordClass, plainMode);
}

/** A minor or half-diminished chord before the dominant of another degree: its ii. */
function appliedTwo(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
  if (event.chordClass !== 'm' && event.chordClass !== 'h') return [];
  if (around.next.chordClass !== 'D' && around.next.chordClass !== 's' && around.next.chordClass !== '+') return [];
  const bySubstitute = around.toNext === 11;
  if (around.toNext !== 5 && !bySubstitute) return [];
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
function backdoor(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
  if (mode === 'minor') return [];
  const base = { style: 'degree', debt: 0, target: 0, targetMode: mode, goalCase: null, isHome: false } as const;
  if (place === 10 && event.chordClass === 'D') {
    const goesHome = [2, 6, 11].includes(around.toNext) && around.next.chordClass !== 'D'; // to I, iii or vi
    return [{ ...base, role: 'backdoor dominant', code: 'backdoor', cost: 2, debt: goesHome ? 0 : 3 }];
  }
  if (place === 5 && event.chordClass === 'm') {
    const toBackdoor = around.toNext === 5 && around.next.chordClass === 'D';
    const goesHome = around.toNext === 7 && modeOfClass(around.next.chordClass) === 'major';
    if (toBackdoor) return [{ ...base, role: 'backdoor predominant', code: 'backdoor.two', cost: 2 }];
    if (goesHome) return [{ ...base, role: 'borrowed', code: 'minor-subdominant', cost: 2 }];
  }
  return [];
}

/** Places of a key on which a chord of the key stands. */
const STEPS: Readonly<Record<Mode, ReadonlySet<number>>> = {
  major: new Set([0, 2, 4, 5, 7, 9, 11]),
  minor: new Set([0, 2, 3, 5, 7, 8, 10, 11]),
};

/** Diminished chords: a step below or above what follows, or on the root of a neighbour. Common practice. */
function diminished(mode: Mode, place: number, event: HarmonicEvent, around: Surroundings): HarmonicFunction[] {
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

/** The mode of the I a chord leads to: as it comes, else the key's. */
function modeOfHome(mode: FunctionMode, role: Role, around: Surroundings): Mode {
  const comes = role === 'dominant' && around.toNext === 5;
  return comes ? modeOfGoal(around.next.chordClass, modeOf(mode)) : modeOf(mode);
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
  const found: HarmonicFunction[] = [...appliedTwo(modeOf(mode), place, event, around)];
  const plain =
    (mode === 'blues' ? BLUES[event.chordClass]?.[place] : undefined) ?? PLAIN[modeOf(mode)][event.chordClass]?.[place];
  if (plain !== undefined) {
    const [cost, role, code] = plain;
    // a m6 or m(maj7) is somebody's tonic: it stands in for no major I; a half-diminished before its V is that V's ii
    const standsIn = code === 'tonic.stand-in' && isTonicMinor(event) ? 3 : 0;
    const isItsTwo =
      event.chordClass === 'h' && code !== 'predominant' && around.toNext === 5 && around.next.chordClass === 'D';
    const isDominant =
      role === 'dominant' || (role === 'predominant' && (code === 'predominant' || code === 'minor-two'));
    found.push({
      role,
      code,
      style: 'degree',
      cost: cost + standsIn,
      debt: (isItsTwo ? ALONE : 0) + (isResting(event, around) && role === 'predominant' ? RESTING : 0),
      target: isDominant ? 0 : null,
      targetMode: isDominant ? modeOfHome(mode, role, around) : null,
      goalCase: null,
      isHome: role === 'tonic' && place === 0 && code !== 'raised-third',
    });
  }
  found.push(
    ...leading(modeOf(mode), place, event, around),
    ...backdoor(modeOf(mode), place, event, around),
    ...diminished(modeOf(mode), place, event, around),
  );
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
