import type { Key } from '../../theory/index.ts';
import type { Role } from '../analysis.ts';
import type { ReasonCode } from '../reasons.ts';
import { ALONE } from './applied.ts';
import { isTonicMinor, type ChordClass, type HarmonicEvent, type Surroundings } from './event.ts';
import { modeOf, modeOfGoal, type FunctionMode, type HarmonicFunction } from './harmonic-function.ts';

type CostTable = Readonly<Record<number, readonly [cost: number, role: Role, code: ReasonCode]>>;

/**
 * Chords that need no neighbour to be understood, by class and by semitones above the tonic: what belongs to the key costs
 * least, what the parallel key lends costs more. Source of the list: common practice (diatonic chords, modal interchange,
 * the blues' I7 and IV7); the costs are ours: 0 the key's own pillars, 1–2 its other chords, 3–6 lent ones, 8 rare.
 */
const PLAIN: Readonly<Record<Key['mode'], Readonly<Partial<Record<ChordClass, CostTable>>>>> = {
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
      10: [2, 'predominant', 'diatonic'],
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
      10: [4, 'predominant', 'diatonic'],
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

/** What a minor predominant owes that lies more than two bars and then goes to no dominant of its own: it is rather somebody's I. */
const RESTING = 4;

/** What a minor chord with the sixth or seventh of a tonic costs more where another chord is home. */
const TONIC_MINOR_ELSEWHERE = 6;

function isResting(event: HarmonicEvent, around: Surroundings): boolean {
  return event.chordClass === 'm' && event.weight === 4 && !(around.toNext === 5 && around.next.chordClass !== 'm');
}

/** The mode of the I a chord leads to: as it comes, else the key's. */
function modeOfHome(mode: FunctionMode, role: Role, around: Surroundings): Key['mode'] {
  const comes = role === 'dominant' && around.toNext === 5;
  return comes ? modeOfGoal(around.next.chordClass, modeOf(mode)) : modeOf(mode);
}

/** What a chord does in a key by its place alone: a chord of the key, or one lent to it. */
export function keyChord(
  mode: FunctionMode,
  place: number,
  event: HarmonicEvent,
  around: Surroundings,
): HarmonicFunction[] {
  const plain =
    (mode === 'blues' ? BLUES[event.chordClass]?.[place] : undefined) ?? PLAIN[modeOf(mode)][event.chordClass]?.[place];
  if (plain === undefined) return [];
  const [cost, role, code] = plain;
  // a m6 or m(maj7) is somebody's tonic: it stands in for no major I, nor is it the v of one; a half-diminished before
  // its V is that V's ii
  const isOutOfPlace = isTonicMinor(event) && (code === 'tonic.stand-in' || (code === 'borrowed' && place === 7));
  const isItsTwo =
    event.chordClass === 'h' && code !== 'predominant' && around.toNext === 5 && around.next.chordClass === 'D';
  // v, bVII and Vmaj7 have no leading note or no tritone: they are no V
  const leadsHome = (role === 'dominant' && code !== 'diatonic') || code === 'predominant' || code === 'minor-two';
  return [
    {
      role,
      code,
      style: 'degree',
      cost: cost + (isOutOfPlace ? TONIC_MINOR_ELSEWHERE : 0),
      debt: (isItsTwo ? ALONE : 0) + (isResting(event, around) && role === 'predominant' ? RESTING : 0),
      target: leadsHome ? 0 : null,
      targetMode: leadsHome ? modeOfHome(mode, role, around) : null,
      goalCase: null,
      isHome:
        role === 'tonic' && place === 0 && code !== 'raised-third' && (mode === 'blues' || code !== 'blues.tonic'),
    },
  ];
}
