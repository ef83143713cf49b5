import { beatTicksOf, TICKS_PER_QUARTER } from '../../chart/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { degree, noteAbove, pitchClassOf, type Midi } from '../../theory/index.ts';
import { circling, type Sung } from './circled.ts';
import { contourOf } from './contour.ts';
import { isChordTone, soundsOn, type KeyPlace } from './key-place.ts';
import { ANTICIPATION_COST, BEYOND_OCTAVE_COST, LINE_COST, MOTION_COST, STANDING_COST, WHIM } from './line-cost.ts';
import { SHORTEST_PHRASE_NOTES } from './phrase.ts';
import { atLevel, type ChorusLevel } from './level.ts';
import { leavesChord } from './phrase-ground.ts';
import { neighboursOf } from './neighbour.ts';
import type { MotiveMark, Onset } from './phrase-plan.ts';
import { cellTicksOf, isOnBeat, isStrongBeat } from './pulse.ts';
import { slotAt } from './slot-at.ts';

const DIMINISHED_SEVENTH = degree('bb7');

/** A note of a line: a key, when it begins and ends. */
export interface LineNote {
  readonly place: KeyPlace;
  readonly startTicks: number;
  readonly endTicks: number;
  readonly anticipates: boolean;
  /** Whether it sounds on into the next slot, which takes it in. */
  readonly held: boolean;
  readonly motive: MotiveMark | null;
}

/** What a line is made from: the plan, the keys under the hand in each slot, the level. */
export interface LineGround {
  /** Three intervals in a row that the chorus has had, as intervalsAsOne writes them. */
  readonly heard: ReadonlySet<number>;
  readonly plan: Plan;
  readonly places: readonly (readonly KeyPlace[])[];
  readonly level: ChorusLevel;
}

/** What a phrase looks back on. */
export interface PhraseBefore {
  readonly lastMidi: Midi | null;
  /** An answer comes to rest on a root or third; a question stays open. */
  readonly isAnswer: boolean;
  /** What has been sung of the chorus, in time order; the last bars count. */
  readonly sung: readonly Sung[];
}

/** A note that could be played, with what it costs by itself. */
export interface Candidate extends LineNote {
  readonly cost: number;
  /** Whether silence follows it. */
  readonly rests: boolean;
  /** The finger move that is wished from the note before; null where the line is free. */
  readonly move: number | null;
}

/** A candidate reached by the cheapest way, with the candidates before it. */
export interface Reached {
  readonly candidate: Candidate;
  readonly cost: number;
  readonly before: Reached | null;
}

/** Whether a note on this tick may belong to the coming slot: it is on the last off-beat cell before it. */
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

/** The slots a note on this tick may belong to. */
function slotsAt(plan: Plan, ticks: number): number[] {
  const here = slotAt(plan, ticks);
  return mayAnticipate(plan, here, ticks) ? [here, here + 1] : [here];
}

/** Whether a key is a half step below the root of a diminished seventh chord. */
function deniesRoot({ slots }: Plan, { slotIndex, midi }: KeyPlace): boolean {
  const chord = slots[slotIndex]?.analysed.chord ?? null;
  if (chord === null || !chord.degrees.includes(DIMINISHED_SEVENTH)) return false;
  return (midi + 1) % 12 === pitchClassOf(chord.root);
}

/** Whether a key is a half step over the bass's ground, in whatever octave, and is none of the chord's written notes. */
function rubsTheBass({ slots }: Plan, { slotIndex, midi }: KeyPlace): boolean {
  const chord = slots[slotIndex]?.analysed.chord ?? null;
  if (chord === null || midi % 12 !== (pitchClassOf(chord.bass ?? chord.root) + 1) % 12) return false;
  return !chord.degrees.some((each) => pitchClassOf(noteAbove(chord.root, each)) === midi % 12);
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
  const beat = isStrongBeat(startTicks, playedBar)
    ? 'strong'
    : isOnBeat(startTicks, playedBar)
      ? 'on beat'
      : 'off beat';
  const candidateOf = (slotIndex: number, place: KeyPlace): Candidate => {
    const slotEnd = (plan.slots[slotIndex] as PlannedSlot).analysed.played.endTicks;
    const nextEnd = plan.slots[slotIndex + 1]?.analysed.played.endTicks ?? slotEnd;
    const held = place.standing !== 'neighbour' && wantedEnd > slotEnd && takesIn(ground, place);
    const endTicks = Math.min(wantedEnd, held ? nextEnd : slotEnd);
    const anticipates = slotIndex !== here;
    const freely = anticipates && wantedEnd <= (plan.slots[here] as PlannedSlot).analysed.played.endTicks;
    const offContour = Math.abs(place.finger * 10 - height) * LINE_COST.offContour;
    const cost =
      STANDING_COST[anticipates ? 'on beat' : beat][place.standing] +
      (beat === 'strong' && !anticipates && deniesRoot(plan, place) ? LINE_COST.deniedRoot : 0) +
      (beat === 'strong' && !anticipates && rubsTheBass(plan, place) ? LINE_COST.rubsTheBass : 0) +
      (freely ? atLevel(ANTICIPATION_COST, level) : 0) +
      // a motive has its own way up and down
      (onset.move === null ? Math.floor(offContour / 10) : 0) +
      (onset.neighbour && place.standing !== 'neighbour' ? LINE_COST.noNeighbour : 0) +
      random.integer(atLevel(WHIM, level) + 1);
    const rests = next === undefined || endTicks < next.startTicks;
    const { move, motive } = onset;
    return { place, startTicks, endTicks, anticipates, held, rests, cost, move, motive };
  };
  const under = slotsAt(plan, startTicks).flatMap((slotIndex) =>
    (places[slotIndex] as readonly KeyPlace[]).map((place) => candidateOf(slotIndex, place)),
  );
  if (!onset.neighbour || next === undefined) return under;
  const goals = slotsAt(plan, next.startTicks).flatMap((slotIndex) => places[slotIndex] ?? []);
  const between = neighboursOf(plan, places[here] ?? [], goals).map((place) => candidateOf(here, place));
  return [...under, ...between];
}

/** What holds wherever silence follows: the ear is left with a chord tone. */
export function mayStandAlone({ place, held, rests }: Candidate): boolean {
  return !rests || isChordTone(place) || (place.standing === 'avoid note' && held);
}

/**
 * Whether a note that must go somewhere goes there: an avoid note by step into a chord tone of its own chord, or held until it
 * is one; a neighbour by half step.
 */
function isTakenCareOf(plan: Plan, from: Candidate, to: Candidate | null): boolean {
  if (from.place.standing === 'neighbour') {
    return (
      to !== null && !from.rests && to.place.standing !== 'neighbour' && from.place.resolvesTo.includes(to.place.midi)
    );
  }
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

/** Three intervals as one number. */
export function intervalsAsOne(first: number, second: number, third: number): number {
  return ((first + 64) * 128 + second + 64) * 128 + third + 64;
}

const isStep = (semitones: number): boolean => semitones !== 0 && Math.abs(semitones) <= 2;

/** Whether an outside chord-scale is left for an inside one, or a way out for a chord's own colour. */
function comesInside({ slots }: Plan, from: number, to: number): boolean {
  const [here, next] = [slots[from], slots[to]];
  if (here?.chordScale?.inside !== false || next?.chordScale == null) return false;
  return next.chordScale.inside || (leavesChord(here) && !leavesChord(next));
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
    const comesHome = isStep(motion) && to.place.standing === 'guide tone';
    if (comesInside(plan, from.place.slotIndex, to.place.slotIndex) && !comesHome) cost += LINE_COST.leftAstray;
  }
  const sharesFinger = from.place.finger === to.place.finger && motion !== 0;
  if (sharesFinger && from.place.slotIndex === to.place.slotIndex) cost += LINE_COST.sameFinger;
  return cost;
}

/** How a note follows the two or three before it; its pair cost is not among it. */
function tailCost({ heard }: LineGround, last: Reached, to: Candidate): number {
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

/** More than the candidates of one onset: five keys in two slots, and what is between five fingers. */
const MOST_CANDIDATES = 64;

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
function costAfter({ plan }: LineGround, from: Candidate, to: Candidate): number | null {
  if (!isTakenCareOf(plan, from, to)) return null;
  const { move, place } = to;
  const differs = move !== null && place.finger - from.place.finger !== move;
  return to.cost + pairCost(plan, from, to) + (differs ? LINE_COST.notTheMotive : 0);
}

/** What a note costs after the notes before it; null where a rule forbids it. */
export function costToFollow(ground: LineGround, last: Reached, candidate: Candidate): number | null {
  const cost = isThirdTime(last, candidate) ? null : costAfter(ground, last.candidate, candidate);
  return cost === null ? null : cost + tailCost(ground, last, candidate);
}

/** A way to a candidate, with the places in their layers of the last notes. */
interface Way extends Reached {
  readonly at: number;
  readonly before: Way | null;
}

/**
 * The cheapest line through all onsets, exactly, looking back three notes; ties go to the lower finger. `known` are the ways to the first
 * onsets where those were searched before with the same candidates; those of the others are added.
 */
export function cheapestLine(
  ground: LineGround,
  layers: readonly Candidate[][],
  before: PhraseBefore,
  known: Way[][] = [],
): Search {
  let reached = known.at(-1) ?? [];
  for (let index = known.length; index < layers.length; index++) {
    const layer = layers[index] as readonly Candidate[];
    const isLast = index === layers.length - 1;
    const best = new Map<number, Way>();
    const offer = (at: number, candidate: Candidate, cost: number, from: Way | null): void => {
      const second = (from?.before?.at ?? -1) + 1;
      const identity = (second * MOST_CANDIDATES + (from?.at ?? -1) + 1) * MOST_CANDIDATES + at + 1;
      const cheapest = best.get(identity);
      if (cheapest === undefined || cost < cheapest.cost) best.set(identity, { candidate, cost, at, before: from });
    };
    for (const [at, candidate] of layer.entries()) {
      if (!mayStandAlone(candidate) || (isLast && !mayEnd(ground.plan, candidate))) continue;
      if (index === 0) offer(at, candidate, startingCost(candidate, before), null);
      // many ways lead to one and the same note: what depends on it alone is counted once
      const pairs: (number | null | undefined)[] = [];
      for (const last of reached) {
        let pair = pairs[last.at];
        if (pair === undefined) pairs[last.at] = pair = costAfter(ground, last.candidate, candidate);
        if (pair === null || isThirdTime(last, candidate)) continue;
        offer(at, candidate, last.cost + pair + tailCost(ground, last, candidate), last);
      }
    }
    reached = [...best.values()];
    if (reached.length === 0) return { line: null, stuckAt: index };
    known.push(reached);
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
    const goesOn: Onset = { ...onset, durationTicks: next.startTicks - onset.startTicks };
    if (next.startTicks <= endTicks || (places[here + 1] ?? []).length === 0) return [goesOn];
    return [
      { ...onset, durationTicks: endTicks - onset.startTicks },
      { ...onset, startTicks: endTicks, durationTicks: next.startTicks - endTicks, move: null, neighbour: false },
    ];
  });
}

/** A candidate that costs more: field by field, so that all have one shape, which the search is quicker over. */
function dearer(candidate: Candidate, by: number): Candidate {
  const { place, startTicks, endTicks, anticipates, held, rests, cost, move, motive } = candidate;
  return { place, startTicks, endTicks, anticipates, held, rests, cost: cost + by, move, motive };
}

/** How often a line is led anew so that it circles no key, and what a circled key then costs more. Our own. */
const MOST_TRIES = 6;
const CIRCLED_KEY_COST = 12;

/** The cheapest line; where it circles a key, the one of a few tries that circles least. */
function freshLine(ground: LineGround, layers: readonly Candidate[][], before: PhraseBefore): Search {
  let tried: readonly Candidate[][] = layers;
  const known: Way[][] = [];
  let best: Search | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const search = cheapestLine(ground, tried, before, known);
    if (search.line === null) return search;
    const { line } = search;
    const sung = line.map(({ startTicks, place }) => ({ startTicks, midi: place.midi }));
    const tired = circling(ground.plan, before.sung, sung);
    if (tired.length < fewest) [best, fewest] = [search, tired.length];
    if (tired.length === 0) break;
    const worn = new Map(tired.map((index) => [index, (line[index] as Candidate).place.midi]));
    known.length = Math.min(...tired);
    tried = tried.map((layer, index) => {
      const key = worn.get(index);
      if (key === undefined) return layer;
      return layer.map((each) => (each.place.midi === key ? dearer(each, CIRCLED_KEY_COST) : each));
    });
  }
  return best as Search;
}

/**
 * A phrase's notes: the cheapest line through its rhythm that keeps every rule and circles no key. Where none does, the note that no line
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
    const { line, stuckAt } = freshLine(ground, layers, before);
    if (line !== null) return line;
    onsets = withoutOnset(onsets, stuckAt);
  }
  return [];
}
