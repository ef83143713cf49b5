import type { Analysis, AnalysedSlot } from '../../analysis/index.ts';
import { beatAt } from '../../chart/index.ts';
import { reachOf, stretchMm, type HandSize, type ReachVerdict } from '../../hand/index.ts';
import { familyMove, type Route, type RouteStep } from '../../plan/index.ts';
import { formatNoteName, pitchClassOf } from '../../theory/index.ts';
import { beatReported } from './as-written.ts';

/** The public JSON of `route`, version 1: docs/json.md. */
export interface RouteReport {
  readonly version: 1;
  readonly steps: readonly {
    readonly slot: string;
    readonly pass: number;
    readonly bar: number;
    readonly beat: number;
    readonly symbol: string;
    readonly chordScale: { readonly id: string; readonly name: string; readonly root: string };
    readonly inside: boolean;
    readonly shape: string;
    readonly thumb: string;
    readonly thumbMidi: number;
    readonly notes: readonly string[];
    readonly travelMm: number;
    readonly stretchMm: number;
    /** How this hand finds the position. */
    readonly reach: ReachVerdict;
    /** The family's move from the step before, in semitones up; null at the first and where the shapes differ. */
    readonly familyMoveSemitones: number | null;
    /** Thumbs of the family that were in the one before: the hand may stay. */
    readonly kept: readonly string[];
  }[];
  readonly totalTravelMm: number;
  /** Cost of the route in tenths of a millimetre; no other route costs less (docs/plan.md). */
  readonly cost: number;
  /** Ways from one choice to the next that were looked at. */
  readonly searched: number;
}

function reportStep(analysis: Analysis, step: RouteStep, before: RouteStep | undefined, hand: HandSize) {
  const { played } = analysis.slots[step.slotIndex] as AnalysedSlot;
  const move = before === undefined ? null : familyMove(before.family, step.family);
  return {
    slot: played.slot.id,
    pass: played.playedBar.pass,
    bar: played.playedBar.bar.number,
    beat: beatReported(beatAt(played.playedBar, step.startTicks)),
    symbol: played.slot.chord.symbol,
    chordScale: {
      id: step.chordScale.id,
      name: step.chordScale.name,
      root: formatNoteName(step.chordScale.scale.root),
    },
    inside: step.chordScale.inside,
    shape: step.position.shape.name,
    thumb: formatNoteName(step.position.thumb),
    thumbMidi: step.thumbMidi,
    notes: step.position.notes.map(formatNoteName),
    travelMm: step.travelMm,
    stretchMm: stretchMm(step.position),
    reach: reachOf(step.position.shape, pitchClassOf(step.position.thumb), hand).verdict,
    familyMoveSemitones: move?.semitones ?? null,
    kept: move?.kept.map((position) => formatNoteName(position.thumb)) ?? [],
  };
}

/** Which position when, as public JSON. */
export function reportRoute(analysis: Analysis, route: Route, hand: HandSize): RouteReport {
  return {
    version: 1,
    steps: route.steps.map((step, index) => reportStep(analysis, step, route.steps[index - 1], hand)),
    totalTravelMm: route.totalTravelMm,
    cost: route.cost,
    searched: route.searched,
  };
}
