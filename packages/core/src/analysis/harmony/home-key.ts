import { isRestful, soundsAsFive, soundsAsTwo } from './final-goal.ts';
import type { CostTables, Ground } from './ground.ts';
import { HOME_COUNT, modeOfKeyIndex, REGION_KEY_COUNT } from './key-costs.ts';
import { leastCost } from './search.ts';

/** Whether a chord can be read as I of the home key at all. */
function hasHomeChord(ground: Ground, index: number, home: number): boolean {
  return ground.functions[index]?.[home]?.some((each) => each.isHome) === true;
}

/** Whether a chord speaks for the home key as its I: a ii does not. */
function isTonicOf(ground: Ground, index: number, home: number): boolean {
  const isElsewhere = soundsAsTwo(ground.events, index) || soundsAsFive(ground.events, index);
  return (ground.isVamp || !isElsewhere) && hasHomeChord(ground, index, home);
}

/** Whether the last chord is the IV of the last goal and comes right after it: Dm7 G7 Cmaj7 Fmaj7. */
function leadsOnFromGoal({ events, ending, goal }: Ground): boolean {
  const [before, last] = [events[ending - 1], events[ending]];
  if (before === undefined || last === undefined || goal === null || last.chordClass !== 'M') return false;
  return before.root === goal && before.chordClass === 'M' && (last.root - goal + 12) % 12 === 5;
}

/** Chords by place that lead from the end of a short form back to the I it opens on: V, IV, iv, bVII, ii. Common practice. */
const LEADING_BACK: ReadonlyMap<number, string> = new Map([
  [7, 'TDsm'],
  [5, 'TMm'],
  [10, 'TMD'],
  [2, 'mh'],
]);

/** A form this short goes round: eight bars. */
const LOOP_BARS = 8;

/** Whether a short form opens on its I and ends on a chord that leads back to it, not one that its own dominant reached. */
function loops(ground: Ground, home: number): boolean {
  const { events, opening, ending, goal } = ground;
  const [first, before, last] = [events[opening], events[ending - 1], events[ending]];
  if (first === undefined || before === undefined || last === undefined) return false;
  if (last.endTicks - first.startTicks > LOOP_BARS * first.barTicks || !isTonicOf(ground, opening, home)) return false;
  if (goal === last.root && (last.root - before.root + 12) % 12 === 5) return false;
  const place = (last.root - home + 36) % 12;
  return LEADING_BACK.get(place)?.includes(last.chordClass) === true;
}

/** Whether the form opens on the ii of this home and its last chord is the dominant that leads to it: Dm7 G7 Em7 A7 in C. */
function pointsToTop(ground: Ground, home: number): boolean {
  const { events, opening, ending } = ground;
  const [first, last] = [events[opening], events[ending]];
  if (first === undefined || last === undefined || last.chordClass !== 'D') return false;
  const opensOnTwo = soundsAsTwo(events, opening) && (first.root - home + 36) % 12 === 2;
  return opensOnTwo && (first.root - last.root + 12) % 12 === 5;
}

/** Whether the home key's I sounds anywhere; where every such chord is a ii, it does not. */
function hasTonic(ground: Ground, home: number): boolean {
  return ground.events.some((_, index) => isTonicOf(ground, index, home));
}

/** Whether the chord a vamp begins on is the I of this home: a seventh chord is that of a blues key. */
function isVampOf(ground: Ground, home: number): boolean {
  const first = ground.events[0];
  if (first === undefined || first.root !== home % 12) return false;
  const mode = modeOfKeyIndex(home);
  if (first.chordClass === 'm') return mode === 'minor';
  return first.chordClass === 'D' || first.chordClass === 's' ? mode === 'blues' : mode !== 'minor';
}

/** Whether the form comes to rest on its last chord: a restful one, a bar long or more. */
function endsAtRest(ground: Ground): boolean {
  const last = ground.events[ground.ending];
  return last !== undefined && last.weight >= 2 && isRestful(last);
}

/**
 * What a home key costs whatever the reading: not beginning on its I, not ending on it. The end is the last two bars,
 * since a turnaround may follow the last I.
 */
export function homeCost(ground: Ground, home: number): number {
  const { costs, events, opening, closing } = ground;
  let cost = home >= REGION_KEY_COUNT ? costs.blues : 0;
  if (!hasTonic(ground, home)) cost += costs.tonicMissing;
  if (!isTonicOf(ground, opening, home)) cost += costs.startNotTonic;
  const { ending, goal, impliedGoal: implied } = ground;
  if (ground.isVamp && !isVampOf(ground, home)) cost += costs.notTheVamp;
  if (goal !== null && goal !== home % 12) cost += costs.finalGoal;
  if (implied !== null && implied !== home % 12) cost += costs.impliedGoal;
  // a IV after the last V–I leads on: the I before it still ends the form
  const atRest = endsAtRest(ground) && !leadsOnFromGoal(ground);
  const from = atRest ? ending : closing;
  const closesOn = (key: number): boolean =>
    events.some((_, index) => index >= from && index <= ending && isTonicOf(ground, index, key));
  if (closesOn(home)) return cost;
  if (home < REGION_KEY_COUNT && closesOn((home + 12) % REGION_KEY_COUNT)) return cost + costs.endOnOtherMode;
  const last = ground.functions[ending]?.[home] ?? [];
  const turnsBack =
    events[ending]?.chordClass !== 'T' &&
    last.some((each) => each.target === 0 && (each.role === 'dominant' || each.role === 'substitute dominant'));
  return (
    cost +
    (turnsBack || pointsToTop(ground, home) || loops(ground, home)
      ? costs.endOnDominant
      : atRest
        ? costs.endAtOtherRest
        : costs.endNotTonic)
  );
}

/** A home key and what the best reading from it costs in all. */
export interface HomeCandidate {
  readonly home: number;
  readonly cost: number;
}

/** These homes (all 36 by default), the cheapest first; where two cost the same, the lower index. Exact. */
export function rankHomes(ground: Ground, tables: CostTables, homes?: readonly number[]): HomeCandidate[] {
  const candidates = homes ?? Array.from({ length: HOME_COUNT }, (_, home) => home);
  return candidates
    .map((home) => ({ home, cost: leastCost(ground, tables, home) + homeCost(ground, home) }))
    .sort((a, b) => a.cost - b.cost || a.home - b.home);
}
