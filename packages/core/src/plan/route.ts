import type { Analysis } from '../analysis/index.ts';
import { distanceMm, type HandSize } from '../hand/index.ts';
import type { Midi, PitchClassSet } from '../theory/index.ts';
import { handFit } from './hand-fit.ts';
import { outsideCurve } from './outside-curve.ts';
import { pinsOf } from './pinned.ts';
import type { Plan, PlannedSlot, PlanPins } from './plan.ts';
import { nextChords, routeChoices, type RouteChoice } from './route-choices.ts';
import { STAYS, stayCost, travelCost } from './route-cost.ts';
import { familyFinder } from './serving-family.ts';
import { cheapestPath, type PathCosts } from './shortest-path.ts';

export interface RouteOptions {
  readonly pins: PlanPins;
  readonly hand: HandSize;
  /** 1 stays on the first rung of every ladder; 2 and 3 follow a curve that goes further outside. */
  readonly level: 1 | 2 | 3;
  /** Points of outsideness wished for each slot, in place of the level's own curve; 0 is inside. */
  readonly curve?: readonly number[];
}

export const ROUTE_COSTS: PathCosts<RouteChoice> = {
  between: (from, to) => travelCost(from.thumbMidi, to.thumbMidi),
  staying: stayCost,
  staysTold: STAYS,
};

/** Everything the hand could do, slot by slot; a slot where it rests, or no shape serves, has no choice. */
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
 * One chord-scale and one position for every played slot: the cheapest route, exactly, over every chord-scale, position
 * and octave (ROUTE_COST says what costs what). The first rung of each ladder at level 1. Pins are obeyed and the rest
 * follows. Where no usual shape covers a chord-scale the family is another shape's; where none covers it, one that
 * serves, with `complete: false`.
 * @throws RangeError where `curve` has not one wish for each slot.
 * @example planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }).totalTravelMm
 */
export function planRoute(analysis: Analysis, options: RouteOptions): Plan {
  const choices = choicesOfAnalysis(analysis, options);
  const path = cheapestPath(
    choices.filter((each) => each.length > 0),
    ROUTE_COSTS,
  );
  let step = 0;
  let thumbBefore: Midi | null = null;
  let totalTravelMm = 0;
  const slots = analysis.slots.map((analysed, index): PlannedSlot => {
    const here = choices[index] as readonly RouteChoice[];
    if (here.length === 0) {
      const chordScale = pinsOf(analysed, options.pins).chordScale ?? analysed.chordScales[0] ?? null;
      return { analysed, chordScale, family: null, position: null, thumbMidi: null, travelMm: 0 };
    }
    const { chordScale, family, position, thumbMidi } = here[path.choices[step++] as number] as RouteChoice;
    const travelMm = thumbBefore === null ? 0 : distanceMm(thumbBefore, thumbMidi);
    thumbBefore = thumbMidi;
    totalTravelMm += travelMm;
    return { analysed, chordScale, family, position, thumbMidi, travelMm };
  });
  return { slots, totalTravelMm };
}
