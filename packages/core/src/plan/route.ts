import type { Analysis, ChordScale } from '../analysis/index.ts';
import { distanceMm, type Family, type HandSize, type Position } from '../hand/index.ts';
import type { Midi, PitchClassSet } from '../theory/index.ts';
import { handFit } from './hand-fit.ts';
import { momentsOf, type Moment, type MoveEvery } from './moment.ts';
import { outsideCurve } from './outside-curve.ts';
import { pinsOf } from './pinned.ts';
import type { Plan, PlannedSlot, PlanPins } from './plan.ts';
import { nextChords, routeChoices, type RouteChoice } from './route-choices.ts';
import { STAYS, stayCost, travelCost } from './route-cost.ts';
import { familyFinder } from './serving-family.ts';
import { cheapestPath, type PathChoice, type PathCosts } from './shortest-path.ts';

export interface RouteOptions {
  readonly pins: PlanPins;
  readonly hand: HandSize;
  /** 1 stays on the first rung of every ladder; 2 and 3 follow a curve that goes further outside. */
  readonly level: 1 | 2 | 3 | 4;
  /** Points of outsideness wished for each slot, in place of the level's own curve; 0 is inside. */
  readonly curve?: readonly number[];
}

/** Where the hand is from one moment to the next. */
export interface RouteStep extends Moment {
  readonly chordScale: ChordScale;
  readonly family: Family;
  readonly position: Position;
  readonly thumbMidi: Midi;
  /** Thumb travel from the step before. */
  readonly travelMm: number;
}

export interface Route {
  /** In time order; none over N.C. and where no shape has a position. */
  readonly steps: readonly RouteStep[];
  readonly totalTravelMm: number;
  /** What the route costs in all, in tenths of a millimetre of travel (ROUTE_COST): no other route costs less. */
  readonly cost: number;
  /** Ways from one choice to the next that were looked at. */
  readonly searched: number;
}

/** A choice at a moment. */
interface MomentChoice extends PathChoice {
  readonly moment: Moment;
  readonly choice: RouteChoice;
}

const ROUTE_COSTS: PathCosts<MomentChoice> = {
  between: (from, to) =>
    // one chord keeps one chord-scale
    from.moment.slotIndex === to.moment.slotIndex && from.choice.chordScale !== to.choice.chordScale
      ? Number.POSITIVE_INFINITY
      : travelCost(from.choice.thumbMidi, to.choice.thumbMidi),
  staying: stayCost,
  staysTold: STAYS,
};

/** Everything the hand could do, slot by slot; a slot where it rests, or no shape has a position, has no choice. */
export function choicesOfAnalysis(analysis: Analysis, options: RouteOptions): readonly (readonly RouteChoice[])[] {
  const { slots } = analysis;
  const curve = options.curve ?? outsideCurve(analysis, options.level);
  if (curve.length !== slots.length) {
    throw new RangeError(`curve must have one wish for each slot: ${slots.length}, not ${curve.length}`);
  }
  const fit = handFit(options.hand);
  const ground = { fit, families: familyFinder(fit) };
  const nexts = nextChords(slots);
  return slots.map((slot, index) =>
    routeChoices(slot, pinsOf(slot, options.pins), curve[index] as number, nexts[index] as PitchClassSet, ground),
  );
}

/**
 * The cheapest route of the hand through the form, exactly: which chord-scale, which position, in which octave, at each chord
 * or also at each half bar. ROUTE_COST says what costs what: travel, awkward thumbs, repetition, avoid notes, the wish
 * for outsideness. Pins are obeyed and the rest follows.
 * @param every how often the hand may move.
 * @throws RangeError where `curve` has not one wish for each slot.
 * @example findRoute(analysis, { pins: NO_PLAN_PINS, hand: 'small', level: 1 }, 'half bar').steps
 */
export function findRoute(analysis: Analysis, options: RouteOptions, every: MoveEvery): Route {
  const choices = choicesOfAnalysis(analysis, options);
  const moments = analysis.slots
    .flatMap(({ played }) => momentsOf(played, every))
    .map((moment) =>
      (choices[moment.slotIndex] as readonly RouteChoice[]).map((choice): MomentChoice => ({
        moment,
        choice,
        cost: choice.cost,
        place: choice.place,
      })),
    )
    .filter((each) => each.length > 0);
  const path = cheapestPath(moments, ROUTE_COSTS);
  let thumbBefore: Midi | null = null;
  const steps = moments.map((each, index): RouteStep => {
    const { moment, choice } = each[path.choices[index] as number] as MomentChoice;
    const { chordScale, family, position, thumbMidi } = choice;
    const travelMm = thumbBefore === null ? 0 : distanceMm(thumbBefore, thumbMidi);
    thumbBefore = thumbMidi;
    return { ...moment, chordScale, family, position, thumbMidi, travelMm };
  });
  const totalTravelMm = steps.reduce((sum, each) => sum + each.travelMm, 0);
  return { steps, totalTravelMm, cost: path.cost, searched: path.searched };
}

/**
 * One chord-scale and one position for every played slot: the cheapest route at each chord (findRoute). Where no usual shape
 * covers a chord-scale the family is another shape's; where none covers it, one that serves, with `complete: false`.
 * @throws RangeError where `curve` has not one wish for each slot.
 * @example planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }).totalTravelMm
 */
export function planRoute(analysis: Analysis, options: RouteOptions): Plan {
  const { steps, totalTravelMm } = findRoute(analysis, options, 'chord');
  const stepOfSlot = new Map(steps.map((step) => [step.slotIndex, step]));
  const slots = analysis.slots.map((analysed, index): PlannedSlot => {
    const step = stepOfSlot.get(index);
    if (step !== undefined) {
      const { chordScale, family, position, thumbMidi, travelMm } = step;
      return { analysed, chordScale, family, position, thumbMidi, travelMm };
    }
    const chordScale = pinsOf(analysed, options.pins).chordScale ?? analysed.chordScales[0] ?? null;
    return { analysed, chordScale, family: null, position: null, thumbMidi: null, travelMm: 0 };
  });
  return { slots, totalTravelMm };
}
