import { beatTicksOf } from '../../chart/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { degree, noteAbove, pitchClassOf } from '../../theory/index.ts';
import { ANTICIPATION_LESS } from './growth.ts';
import { isChordTone, type KeyPlace } from './key-place.ts';
import { atLevel, type ChorusLevel } from './level.ts';
import { ANTICIPATION_COST, LINE_COST, STANDING_COST, WHIM } from './line-cost.ts';
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
  /** How far the chorus has grown (growth.ts). */
  readonly growth: number;
}

/** A note that could be played, with what it costs by itself. */
export interface Candidate extends LineNote {
  readonly cost: number;
  /** Whether silence follows it. */
  readonly rests: boolean;
  /** The finger move that is wished from the note before; null where the line is free. */
  readonly move: number | null;
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
  const { plan, places, level, growth } = ground;
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
      (freely ? atLevel(ANTICIPATION_COST, level) - ANTICIPATION_LESS * growth : 0) +
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
