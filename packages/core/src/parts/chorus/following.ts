import { TICKS_PER_QUARTER } from '../../chart/index.ts';
import type { Plan } from '../../plan/index.ts';
import type { Midi } from '../../theory/index.ts';
import type { Candidate, LineGround } from './candidate.ts';
import type { Sung } from './circled.ts';
import { isChordTone, isWrongWay, soundsOn } from './key-place.ts';
import { BEYOND_OCTAVE_COST, LINE_COST, MOTION_COST } from './line-cost.ts';
import { leavesChord } from './phrase-ground.ts';

/** What a phrase looks back on. */
export interface PhraseBefore {
  readonly lastMidi: Midi | null;
  /** An answer comes to rest, on the root before all; a question stays open. */
  readonly isAnswer: boolean;
  /** What has been sung of the chorus, in time order; the last bars count. */
  readonly sung: readonly Sung[];
}

/** A candidate reached by the cheapest way, with the candidates before it. */
export interface Reached {
  readonly candidate: Candidate;
  readonly cost: number;
  readonly before: Reached | null;
}

/** What holds wherever silence follows: the ear is left with a chord tone. */
export function mayStandAlone({ place, held, rests }: Candidate): boolean {
  return !rests || isChordTone(place) || (place.standing === 'avoid note' && held);
}

/**
 * Whether a note that must go somewhere goes there: an avoid note by step into a chord tone of its own chord, or held until it
 * is one, or home from outside into the coming chord's guide tone; a neighbour by half step.
 */
function isTakenCareOf(plan: Plan, from: Candidate, to: Candidate | null): boolean {
  if (from.place.standing === 'neighbour') {
    return (
      to !== null && !from.rests && to.place.standing !== 'neighbour' && from.place.resolvesTo.includes(to.place.midi)
    );
  }
  if (from.place.standing !== 'avoid note' || from.held) return true;
  if (to !== null && !from.rests && comesHome(plan, from, to)) return true;
  return (
    to !== null &&
    !from.rests &&
    from.place.resolvesTo.includes(to.place.midi) &&
    isChordTone(to.place) &&
    (to.place.slotIndex === from.place.slotIndex || soundsOn(plan, from.place.slotIndex, to.place.slotIndex))
  );
}

function motionCost(semitones: number): number {
  const size = Math.abs(semitones);
  return size <= 12 ? (MOTION_COST[size] as number) : (MOTION_COST[12] as number) + (size - 12) * BEYOND_OCTAVE_COST;
}

/** Three intervals as one number. */
export function intervalsAsOne(first: number, second: number, third: number): number {
  return ((first + 64) * 128 + second + 64) * 128 + third + 64;
}

const isStep = (semitones: number): boolean => semitones !== 0 && Math.abs(semitones) <= 2;

/** Whether an outside chord-scale is left for an inside one, or a way out for a chord's own colour. */
export function comesInside({ slots }: Plan, from: number, to: number): boolean {
  const [here, next] = [slots[from], slots[to]];
  if (here?.chordScale?.inside !== false || next?.chordScale == null) return false;
  return next.chordScale.inside || (leavesChord(here) && !leavesChord(next));
}

/** Whether a line comes home: from outside by step into a guide tone of the chord that comes inside; a ♭9 or ♭13 falls. */
function comesHome(plan: Plan, { place: from }: Candidate, { place: to }: Candidate): boolean {
  const motion = to.midi - from.midi;
  const isWrong = from.standing === 'avoid note' && isWrongWay(from.degree, motion);
  return isStep(motion) && to.standing === 'guide tone' && !isWrong && comesInside(plan, from.slotIndex, to.slotIndex);
}

/** An eighth: an avoid note may pass, not stay. Common practice. */
const LONGEST_RUB_TICKS = TICKS_PER_QUARTER / 2;

/** How a note follows the one before it. */
function pairCost(plan: Plan, from: Candidate, to: Candidate): number {
  const motion = to.place.midi - from.place.midi;
  let cost = motionCost(motion);
  if (from.place.standing === 'avoid note' && !from.held) {
    if (from.endTicks - from.startTicks > LONGEST_RUB_TICKS) cost += LINE_COST.longRub;
    if (Math.abs(motion) > 1) cost += LINE_COST.wideWayOut;
  }
  if (to.place.slotIndex !== from.place.slotIndex && !soundsOn(plan, from.place.slotIndex, to.place.slotIndex)) {
    if (to.place.standing !== 'guide tone') cost += LINE_COST.missedTarget;
    if (Math.abs(motion) > 2) cost += LINE_COST.enteredByLeap;
    const isWayHome = comesInside(plan, from.place.slotIndex, to.place.slotIndex);
    if (isWayHome && !comesHome(plan, from, to)) cost += LINE_COST.leftAstray;
  }
  const sharesFinger = from.place.finger === to.place.finger && motion !== 0;
  if (sharesFinger && from.place.slotIndex === to.place.slotIndex) cost += LINE_COST.sameFinger;
  return cost;
}

/** How a note follows the two or three before it; its pair cost is not among it. */
export function tailCost({ heard }: LineGround, last: Reached, to: Candidate): number {
  const second = last.before;
  if (second === null) return 0;
  const now = to.place.midi;
  const one = last.candidate.place.midi;
  const two = second.candidate.place.midi;
  const three = second.before?.candidate.place.midi;
  const motion = now - one;
  const before = one - two;
  let cost = 0;
  if (now === two) cost += three === one ? LINE_COST.trill : LINE_COST.swayed;
  if (Math.abs(before) >= 5 && motion * before > 0) cost += LINE_COST.leapNotFilled;
  if (three === undefined) return cost;
  const first = two - three;
  if (to.move === null && now === three) cost += LINE_COST.circled;
  if (to.move === null && heard.has(intervalsAsOne(first, before, motion))) cost += LINE_COST.heardBefore;
  if (motion * before < 0 && before * first < 0) cost += LINE_COST.zigzag;
  return cost;
}

/** A sixteenth: so soon no finger takes another key. Common practice. */
const TOO_QUICK_TICKS = TICKS_PER_QUARTER / 4;

function isTooQuick(from: Candidate, to: Candidate): boolean {
  const isSame = from.place.finger === to.place.finger && from.place.midi !== to.place.midi;
  return isSame && to.startTicks - from.startTicks <= TOO_QUICK_TICKS;
}

/** The same key three times running is no line. */
export function isThirdTime(last: Reached, to: Candidate): boolean {
  return (
    last.candidate.place.midi === to.place.midi &&
    last.before !== null &&
    last.before.candidate.place.midi === to.place.midi
  );
}

/**
 * What a last note costs by its place in the chord: an answer is best on the root, then the third; a question on the fifth, then the third; a
 * seventh wants to go on. Common practice.
 */
const END_COST: Readonly<Record<'answer' | 'question', Readonly<Record<string, number>>>> = {
  answer: { '1': 0, b3: 6, '3': 6, '5': 8 },
  question: { '5': 0, b5: 0, '#5': 0, b3: 6, '3': 6, '1': 8 },
};

export function endingCost({ candidate, before }: Reached, isAnswer: boolean): number {
  const ends = END_COST[isAnswer ? 'answer' : 'question'];
  const repeats = before?.candidate.place.midi === candidate.place.midi;
  return (ends[candidate.place.degree] ?? LINE_COST.weakEnd) + (repeats ? LINE_COST.weakEnd : 0);
}

/** Whether a line may end here. */
export function mayEnd(plan: Plan, candidate: Candidate): boolean {
  return isChordTone(candidate.place) && isTakenCareOf(plan, candidate, null);
}

/** What a first note costs. */
export function startingCost(candidate: Candidate, { lastMidi }: PhraseBefore): number {
  const away = lastMidi === null ? 0 : Math.abs(candidate.place.midi - lastMidi);
  const far = Math.max(0, away - 7) * LINE_COST.farStart + Math.max(0, away - 12) * LINE_COST.veryFarStart;
  return candidate.cost + far;
}

/** What a note costs after the note before it alone; null where a rule forbids it. */
export function costAfter({ plan }: LineGround, from: Candidate, to: Candidate): number | null {
  if (!isTakenCareOf(plan, from, to) || isTooQuick(from, to)) return null;
  const { move, place } = to;
  const differs = move !== null && place.finger - from.place.finger !== move;
  return to.cost + pairCost(plan, from, to) + (differs ? LINE_COST.notTheMotive : 0);
}

/** What a note costs after the notes before it; null where a rule forbids it. */
export function costToFollow(ground: LineGround, last: Reached, candidate: Candidate): number | null {
  const cost = isThirdTime(last, candidate) ? null : costAfter(ground, last.candidate, candidate);
  return cost === null ? null : cost + tailCost(ground, last, candidate);
}
