import type { HarmonicEvent } from './event.ts';
import type { Ground } from './ground.ts';
import { HOME_COUNT, REGION_KEY_COUNT } from './key-costs.ts';
import { leastCost } from './search.ts';

/** Whether a chord is I of the home key. */
function isTonicOf(ground: Ground, index: number, home: number): boolean {
  return ground.functions[index]?.[home]?.some((each) => each.isHome) === true;
}

/** Whether the form opens on a minor chord that its dominant follows: a ii, and no evidence of a tonic. Common practice. */
function opensWithTwoFive(events: readonly HarmonicEvent[]): boolean {
  const [first, second] = events;
  if (first === undefined || second === undefined) return false;
  return first.chordClass === 'm' && second.chordClass === 'D' && (second.root - first.root + 12) % 12 === 5;
}

/**
 * What a home key costs whatever the reading: not beginning on its I, not ending on it. The end is the last two bars,
 * since a turnaround may follow the last I.
 */
export function homeCost(ground: Ground, home: number): number {
  const { costs, events, closing } = ground;
  let cost = home >= REGION_KEY_COUNT ? costs.blues : 0;
  if (!isTonicOf(ground, 0, home) || opensWithTwoFive(events)) cost += costs.startNotTonic;
  const closesOn = (key: number): boolean =>
    events.some((_, index) => index >= closing && isTonicOf(ground, index, key));
  if (closesOn(home)) return cost;
  if (home < REGION_KEY_COUNT && closesOn((home + 12) % REGION_KEY_COUNT)) return cost + costs.endOnOtherMode;
  const last = ground.functions[events.length - 1]?.[home] ?? [];
  const turnsBack = last.some(
    (each) => each.target === 0 && (each.role === 'dominant' || each.role === 'substitute dominant'),
  );
  return cost + (turnsBack ? costs.endOnDominant : costs.endNotTonic);
}

/** A home key and what the best reading from it costs in all. */
export interface HomeCandidate {
  readonly home: number;
  readonly cost: number;
}

/** These homes (all 36 unless told), the cheapest first; where two cost the same, the lower index. Exact. */
export function rankHomes(ground: Ground, homes?: readonly number[]): HomeCandidate[] {
  const candidates = homes ?? Array.from({ length: HOME_COUNT }, (_, home) => home);
  return candidates
    .map((home) => ({ home, cost: leastCost(ground, home) + homeCost(ground, home) }))
    .sort((a, b) => a.cost - b.cost || a.home - b.home);
}
