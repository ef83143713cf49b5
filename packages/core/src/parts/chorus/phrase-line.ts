import type { PlannedSlot } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { candidatesOf, type Candidate, type LineGround, type LineNote } from './candidate.ts';
import { circling } from './circled.ts';
import { contourOf } from './contour.ts';
import {
  comesInside,
  costAfter,
  endingCost,
  isThirdTime,
  mayEnd,
  mayStandAlone,
  startingCost,
  tailCost,
  type PhraseBefore,
  type Reached,
} from './following.ts';
import { isChordTone } from './key-place.ts';
import { SHORTEST_PHRASE_NOTES } from './phrase.ts';
import type { Onset } from './phrase-plan.ts';
import { slotAt } from './slot-at.ts';

export interface Search {
  readonly line: Candidate[] | null;
  /** The onset that no line reaches, where there is none. */
  readonly stuckAt: number;
}

/** More than the candidates of one onset: five keys in two slots, and what is between five fingers. */
const MOST_CANDIDATES = 64;

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
    const hasRest = (places[here] ?? []).some(isChordTone);
    // what comes home from outside does not stop on the way
    const isWayHome = next !== undefined && comesInside(plan, here, slotAt(plan, next.startTicks));
    if (next === undefined || (hasRest && !isWayHome)) return [onset];
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
