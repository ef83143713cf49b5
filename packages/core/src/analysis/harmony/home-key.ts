import { hasMinorSeventh, type HarmonicEvent } from './event.ts';
import type { CostTables, Ground } from './ground.ts';
import { HOME_COUNT, REGION_KEY_COUNT } from './key-costs.ts';
import { leastCost } from './search.ts';

/** Whether a chord can be read as I of the home key at all. */
function hasHomeChord(ground: Ground, index: number, home: number): boolean {
  return ground.functions[index]?.[home]?.some((each) => each.isHome) === true;
}

/** Whether a chord speaks for the home key as its I: a ii does not. */
function isTonicOf(ground: Ground, index: number, home: number): boolean {
  return !soundsAsTwo(ground.events, index) && hasHomeChord(ground, index, home);
}

/** Whether the form comes to rest on its last chord: a major or minor chord without a minor seventh, a bar long or more. */
function endsAtRest({ events }: Ground): boolean {
  const last = events.at(-1);
  if (last === undefined || last.weight < 2) return false;
  return last.chordClass === 'M' || last.chordClass === 'T' || (last.chordClass === 'm' && !hasMinorSeventh(last));
}

/** Whether a minor chord is followed by its dominant: a ii, and no evidence of a tonic. Common practice. */
function soundsAsTwo(events: readonly HarmonicEvent[], index: number): boolean {
  const [event, next] = [events[index], events[index + 1]];
  if (event === undefined || next === undefined || event.chordClass !== 'm' || next.chordClass !== 'D') return false;
  const up = (next.root - event.root + 12) % 12;
  return up === 5 || up === 11;
}

/**
 * What a home key costs whatever the reading: not beginning on its I, not ending on it. The end is the last two bars,
 * since a turnaround may follow the last I.
 */
export function homeCost(ground: Ground, home: number): number {
  const { costs, events, opening, closing } = ground;
  let cost = home >= REGION_KEY_COUNT ? costs.blues : 0;
  if (!events.some((_, index) => hasHomeChord(ground, index, home))) cost += costs.tonicMissing;
  if (!isTonicOf(ground, opening, home)) cost += costs.startNotTonic;
  const atRest = endsAtRest(ground);
  const from = atRest ? events.length - 1 : closing;
  const closesOn = (key: number): boolean => events.some((_, index) => index >= from && isTonicOf(ground, index, key));
  if (closesOn(home)) return cost;
  if (home < REGION_KEY_COUNT && closesOn((home + 12) % REGION_KEY_COUNT)) return cost + costs.endOnOtherMode;
  const last = ground.functions[events.length - 1]?.[home] ?? [];
  const turnsBack = last.some(
    (each) => each.target === 0 && (each.role === 'dominant' || each.role === 'substitute dominant'),
  );
  return cost + (turnsBack ? costs.endOnDominant : atRest ? costs.endAtOtherRest : costs.endNotTonic);
}

/** A home key and what the best reading from it costs in all. */
export interface HomeCandidate {
  readonly home: number;
  readonly cost: number;
}

/** These homes (all 36 unless told), the cheapest first; where two cost the same, the lower index. Exact. */
export function rankHomes(ground: Ground, tables: CostTables, homes?: readonly number[]): HomeCandidate[] {
  const candidates = homes ?? Array.from({ length: HOME_COUNT }, (_, home) => home);
  return candidates
    .map((home) => ({ home, cost: leastCost(ground, tables, home) + homeCost(ground, home) }))
    .sort((a, b) => a.cost - b.cost || a.home - b.home);
}
