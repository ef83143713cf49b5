import { beatTicksOf } from '../../chart/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import type { Midi } from '../../theory/index.ts';
import { contourOf } from './contour.ts';
import { isChordTone, soundsOn, type KeyPlace } from './key-place.ts';
import { ANTICIPATION_COST, BEYOND_OCTAVE_COST, LINE_COST, MOTION_COST, STANDING_COST, WHIM } from './line-cost.ts';
import { SHORTEST_PHRASE_NOTES } from './phrase.ts';
import type { ChorusLevel, Onset } from './phrase-rhythm.ts';
import { cellTicksOf, isOnBeat, isStrongBeat } from './pulse.ts';

/** A note of a line: a key, when it begins and ends. */
export interface LineNote {
  readonly place: KeyPlace;
  readonly startTicks: number;
  readonly endTicks: number;
  readonly anticipates: boolean;
  /** Whether it sounds on into the next slot, which takes it in. */
  readonly held: boolean;
}

/** What a line is made from: the plan, the keys under the hand in each slot, the level. */
export interface LineGround {
  readonly plan: Plan;
  readonly places: readonly (readonly KeyPlace[])[];
  readonly level: ChorusLevel;
}

/** What a phrase looks back on. */
export interface PhraseBefore {
  readonly lastMidi: Midi | null;
  /** Finger moves of the phrase that is answered. */
  readonly moves: readonly number[];
  /** How many of the first notes may repeat those moves. */
  readonly answering: number;
  /** An answer comes to rest on a root or third; a question stays open. */
  readonly isAnswer: boolean;
}

/** A note that could be played, with what it costs by itself. */
export interface Candidate extends LineNote {
  readonly cost: number;
  /** Whether silence follows it. */
  readonly rests: boolean;
}

/** A candidate reached by the cheapest way, with the candidates before it. */
export interface Reached {
  readonly candidate: Candidate;
  readonly cost: number;
  readonly before: Reached | null;
}

/** The slot that sounds at a tick of the form. Slots ascend without gaps. */
export function slotAt({ slots }: Plan, ticks: number): number {
  let [low, high] = [0, slots.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((slots[middle] as PlannedSlot).analysed.played.startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Whether a note on this tick may belong to the coming slot: it lies on the last off-beat cell before it. */
export function mayAnticipate(plan: Plan, slotIndex: number, ticks: number): boolean {
  const here = plan.slots[slotIndex]?.analysed.played;
  const next = plan.slots[slotIndex + 1]?.analysed.played;
  if (here === undefined || next === undefined) return false;
  const { meter } = here.playedBar.bar;
  return (
    cellTicksOf(meter) < beatTicksOf(meter) &&
    next.startTicks - ticks === cellTicksOf(meter) &&
    !isOnBeat(ticks, here.playedBar)
  );
}

/** Whether a key may sound on into the next slot: it lies under that hand too and is at home there. */
function takesIn(ground: LineGround, place: KeyPlace): boolean {
  const next = ground.places[place.slotIndex + 1] ?? [];
  return next.some((each) => each.midi === place.midi && isChordTone(each));
}

export function candidatesOf(
  ground: LineGround,
  onset: Onset,
  next: Onset | undefined,
  height: number,
  random: RandomSource,
): Candidate[] {
  const { plan, places, level } = ground;
  const { startTicks } = onset;
  const here = slotAt(plan, startTicks);
  const { playedBar } = (plan.slots[here] as PlannedSlot).analysed.played;
  const wantedEnd = Math.min(next?.startTicks ?? Number.POSITIVE_INFINITY, startTicks + onset.durationTicks);
  const belongsTo = mayAnticipate(plan, here, startTicks) ? [here, here + 1] : [here];
  const beat = isStrongBeat(startTicks, playedBar)
    ? 'strong'
    : isOnBeat(startTicks, playedBar)
      ? 'on beat'
      : 'off beat';
  return belongsTo.flatMap((slotIndex) =>
    (places[slotIndex] as readonly KeyPlace[]).map((place): Candidate => {
      const slotEnd = (plan.slots[slotIndex] as PlannedSlot).analysed.played.endTicks;
      const nextEnd = plan.slots[slotIndex + 1]?.analysed.played.endTicks ?? slotEnd;
      const held = wantedEnd > slotEnd && takesIn(ground, place);
      const endTicks = Math.min(wantedEnd, held ? nextEnd : slotEnd);
      const anticipates = slotIndex !== here;
      const freely = anticipates && wantedEnd <= (plan.slots[here] as PlannedSlot).analysed.played.endTicks;
      const cost =
        STANDING_COST[anticipates ? 'on beat' : beat][place.standing] +
        (freely ? ANTICIPATION_COST[level] : 0) +
        Math.floor((Math.abs(place.finger * 10 - height) * LINE_COST.offContour) / 10) +
        random.integer(WHIM[level] + 1);
      const rests = next === undefined || endTicks < next.startTicks;
      return { place, startTicks, endTicks, anticipates, held, rests, cost };
    }),
  );
}

/** What holds wherever silence follows: the ear is left with a chord tone. */
export function mayStandAlone({ place, held, rests }: Candidate): boolean {
  return !rests || isChordTone(place) || (place.standing === 'avoid note' && held);
}

/** Whether an avoid note goes where it must: by step into a chord tone of its own chord, or held until it is one. */
function isTakenCareOf(plan: Plan, from: Candidate, to: Candidate | null): boolean {
  if (from.place.standing !== 'avoid note' || from.held) return true;
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

/** How a note follows those before it. */
function followingCost(plan: Plan, last: Reached, to: Candidate): number {
  const from = last.candidate;
  const second = last.before?.candidate;
  const third = last.before?.before?.candidate;
  const [now, one, two, three] = [to, from, second, third].map((each) => each?.place.midi as number);
  const motion = (now as number) - (one as number);
  let cost = motionCost(motion);
  if (to.place.slotIndex !== from.place.slotIndex && !soundsOn(plan, from.place.slotIndex, to.place.slotIndex)) {
    if (to.place.standing !== 'guide tone') cost += LINE_COST.missedTarget;
    if (Math.abs(motion) > 2) cost += LINE_COST.enteredByLeap;
  }
  if (two === undefined) return cost;
  const before = (one as number) - two;
  if (now === two) cost += three === one ? LINE_COST.trill : LINE_COST.swayed;
  if (Math.abs(before) >= 5 && motion * before > 0) cost += LINE_COST.leapNotFilled;
  if (three === undefined) return cost;
  const first = two - three;
  if (motion * before < 0 && before * first < 0) cost += LINE_COST.zigzag;
  const runs = motion * before > 0 && before * first > 0;
  if (runs && Math.max(Math.abs(motion), Math.abs(before), Math.abs(first)) <= 3) cost += LINE_COST.scaleRun;
  return cost;
}

/** The same key three times running is no line. */
function isThirdTime(last: Reached, to: Candidate): boolean {
  return (
    last.candidate.place.midi === to.place.midi &&
    last.before !== null &&
    last.before.candidate.place.midi === to.place.midi
  );
}

/** Where a last note is best: an answer on root or third, a question on third, fifth or seventh. Common practice. */
const ENDS = {
  answer: ['1', 'b3', '3'],
  question: ['b3', '3', 'b5', '5', '#5', 'b7', '7', '6'],
} as const;

export function endingCost({ candidate, before }: Reached, isAnswer: boolean): number {
  const ends: readonly string[] = ENDS[isAnswer ? 'answer' : 'question'];
  const repeats = before?.candidate.place.midi === candidate.place.midi;
  return (ends.includes(candidate.place.degree) ? 0 : LINE_COST.weakEnd) + (repeats ? LINE_COST.weakEnd : 0);
}

export interface Search {
  readonly line: Candidate[] | null;
  /** The onset that no line reaches, where there is none. */
  readonly stuckAt: number;
}

/** Tells a candidate from the others of its onset, 1 to 10: its finger, and whether it comes early; 0 for none. */
function fingerOf(candidate: Candidate | undefined): number {
  return candidate === undefined ? 0 : candidate.place.finger + (candidate.anticipates ? 5 : 0);
}

/** Whether a line may end here. */
export function mayEnd(plan: Plan, candidate: Candidate): boolean {
  return isChordTone(candidate.place) && isTakenCareOf(plan, candidate, null);
}

/** What a first note costs. */
export function startingCost(candidate: Candidate, { lastMidi }: PhraseBefore): number {
  const far = lastMidi === null ? 0 : Math.max(0, Math.abs(candidate.place.midi - lastMidi) - 7);
  return candidate.cost + far * LINE_COST.farStart;
}

/** What a note costs after the notes before it; null where a rule forbids it. */
export function costToFollow(
  plan: Plan,
  before: PhraseBefore,
  index: number,
  last: Reached,
  candidate: Candidate,
): number | null {
  if (!isTakenCareOf(plan, last.candidate, candidate) || isThirdTime(last, candidate)) return null;
  const answered = index < before.answering ? before.moves[index - 1] : undefined;
  const differs = answered !== undefined && candidate.place.finger - last.candidate.place.finger !== answered;
  return candidate.cost + followingCost(plan, last, candidate) + (differs ? LINE_COST.notAnswering : 0);
}

/** The cheapest line through all onsets, exactly, looking back three notes; ties go to the lower finger. */
export function cheapestLine(ground: LineGround, layers: readonly Candidate[][], before: PhraseBefore): Search {
  let reached: Reached[] = [];
  for (const [index, layer] of layers.entries()) {
    const isLast = index === layers.length - 1;
    const open = layer.filter(mayStandAlone);
    const best = new Map<number, Reached>();
    const offer = (candidate: Candidate, cost: number, from: Reached | null): void => {
      const second = from?.before?.candidate;
      const identity = (fingerOf(second) * 12 + fingerOf(from?.candidate)) * 12 + fingerOf(candidate);
      const known = best.get(identity);
      if (known === undefined || cost < known.cost) best.set(identity, { candidate, cost, before: from });
    };
    for (const candidate of open) {
      if (isLast && !mayEnd(ground.plan, candidate)) continue;
      if (index === 0) offer(candidate, startingCost(candidate, before), null);
      for (const last of reached) {
        const cost = costToFollow(ground.plan, before, index, last, candidate);
        if (cost !== null) offer(candidate, last.cost + cost, last);
      }
    }
    reached = [...best.values()];
    if (reached.length === 0) return { line: null, stuckAt: index };
  }
  let last: Reached | null = null;
  let lowest = Number.POSITIVE_INFINITY;
  for (const each of reached) {
    const cost = each.cost + endingCost(each, before.isAnswer);
    if (cost < lowest) [last, lowest] = [each, cost];
  }
  const line: Candidate[] = [];
  for (; last !== null; last = last.before) line.unshift(last.candidate);
  return { line, stuckAt: -1 };
}

/** Onsets without one of them; the note before it goes on in its place. */
function withoutOnset(onsets: readonly Onset[], index: number): Onset[] {
  const gone = onsets[index] as Onset;
  return onsets.flatMap((each, place) => {
    if (place === index) return [];
    const fills = place === index - 1 && index < onsets.length - 1;
    return [fills ? { ...each, durationTicks: gone.startTicks + gone.durationTicks - each.startTicks } : each];
  });
}

/**
 * A rhythm whose notes never stop where the hand holds no chord tone to stop on: there they go on to the next one, and a
 * note that would be cut by the change is struck again on it.
 */
function withoutLooseEnds({ plan, places }: LineGround, onsets: readonly Onset[]): Onset[] {
  return onsets.flatMap((onset, index) => {
    const here = slotAt(plan, onset.startTicks);
    const next = onsets[index + 1];
    if (next === undefined || (places[here] ?? []).some(isChordTone)) return [onset];
    const { endTicks } = (plan.slots[here] as PlannedSlot).analysed.played;
    const goesOn = { ...onset, durationTicks: next.startTicks - onset.startTicks };
    if (next.startTicks <= endTicks || (places[here + 1] ?? []).length === 0) return [goesOn];
    return [
      { ...onset, durationTicks: endTicks - onset.startTicks },
      { startTicks: endTicks, durationTicks: next.startTicks - endTicks },
    ];
  });
}

/**
 * A phrase's notes: the cheapest line through its rhythm that keeps every rule. Where none does, the note that no line
 * reaches is left out; a phrase that would have fewer than four notes rests.
 */
export function linePhrase(
  ground: LineGround,
  rhythm: readonly Onset[],
  before: PhraseBefore,
  random: RandomSource,
): LineNote[] {
  let onsets: readonly Onset[] = withoutLooseEnds(ground, rhythm);
  const heights = contourOf(onsets.length, random);
  while (onsets.length >= SHORTEST_PHRASE_NOTES) {
    const layers = onsets.map((onset, index) =>
      candidatesOf(ground, onset, onsets[index + 1], heights[index] as number, random),
    );
    const { line, stuckAt } = cheapestLine(ground, layers, before);
    if (line !== null) return line;
    onsets = withoutOnset(onsets, stuckAt);
  }
  return [];
}
