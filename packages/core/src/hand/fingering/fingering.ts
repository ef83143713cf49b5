import type { Issue, Result } from '../../issue/index.ts';
import type { Midi } from '../../theory/index.ts';
import type { Finger } from '../position.ts';
import {
  chargePair,
  chargeStrike,
  chargeTriple,
  fingersFor,
  type Charge,
  type FingeredStrike,
  type Strike,
} from './event-cost.ts';
import { FINGERING_RULES, type FingeringModel, type FingeringRule } from './model.ts';
import type { FingeredKey, HandSide, RuleCosts, Ruling } from './rules.ts';

/** What is wanted of a fingering. */
export interface FingeringOptions {
  readonly side: HandSide;
  readonly model: FingeringModel;
  /** Notes that must be played by a finger: strike (counted from 0), key, finger. */
  readonly pins?: readonly FingerPin[];
  /** Strikes (counted from 0) before which the line rests, so that the hand comes to them freely. */
  readonly restsBefore?: readonly number[];
  /** How many fingerings, best first; 1 when left out. */
  readonly count?: number;
}

export interface FingerPin {
  readonly strike: number;
  readonly key: Midi;
  readonly finger: Finger;
}

/** A line of one hand with a finger for each note, and what it costs. */
export interface Fingering {
  /** For each strike the fingers on its keys, lowest key first. */
  readonly fingers: readonly (readonly Finger[])[];
  /** Steps beyond what the model calls practical: leaps, and fingers a pin forces. Fewer always comes first. */
  readonly beyondPractical: number;
  /** The model's points, exact (half points occur with Balliauw's). */
  readonly points: number;
  readonly pointsByRule: RuleCosts;
}

/** One step beyond practical outweighs every sum of costs of a line that can be. */
const BEYOND_PRACTICAL = 2 ** 30;

/** Adds up for the search: one number, steps beyond practical first. */
class Sum implements Charge {
  total = 0;
  add(_rule: FingeringRule, cost: number): void {
    this.total += cost;
  }
  beyondPractical(): void {
    this.total += BEYOND_PRACTICAL;
  }
}

/** A prefix of a fingering in the search: its cost, its alphabetical rank among all prefixes kept, and what it continues. */
interface Prefix {
  readonly cost: number;
  /** Index of the strike's fingers among its choices. */
  readonly choice: number;
  readonly previous: Prefix | null;
  rank: number;
}

/**
 * The best fingerings of a line by dynamic programming over pairs of neighbouring strikes: exact, since no rule looks
 * further than three. First the fewest steps beyond practical, then the lowest cost, then the lower finger on the
 * first note where they differ.
 * @param line what the hand strikes, in time order; keys of a strike ascend.
 * @returns at most `count` fingerings, or what is wrong: a strike of more than five keys or with fingers pinned that cross.
 * @throws RangeError where count is no positive integer, keys of a strike do not ascend, or a pin names no key of the line.
 * @example bestFingerings([[midi(60)], [midi(62)], [midi(64)]], { side: 'right', model: fingeringModel('parncutt') })
 */
export function bestFingerings(line: readonly Strike[], options: FingeringOptions): Result<readonly Fingering[]> {
  const count = options.count ?? 1;
  if (!Number.isInteger(count) || count < 1) throw new RangeError(`count must be a positive integer, not ${count}`);
  refuseUnordered(line);
  const ruling: Ruling = options;
  const rests = new Set(options.restsBefore);
  const pins = pinsByStrike(line, options.pins ?? []);
  const choices = line.map((strike, index) =>
    fingersFor(strike, ruling.side)
      .filter((fingers) => (pins.get(index) ?? []).every((pin) => fingers[strike.indexOf(pin.key)] === pin.finger))
      .map((fingers) => finger(strike, fingers)),
  );
  const issues = line.flatMap((strike, index) => (choices[index]?.length === 0 ? [issueOf(strike, index)] : []));
  if (issues.length > 0) return { ok: false, issues };

  /** Kept prefixes by (choice of the strike before, choice of this strike). */
  let kept: Prefix[][][] = [];
  for (const [index, here] of choices.entries()) {
    const before = choices[index - 1];
    const earlier = choices[index - 2];
    const own = here.map((strike) =>
      sumOf((sum) =>
        chargeStrike(
          ruling,
          strike,
          rests.has(index) ? undefined : line[index - 1],
          rests.has(index + 1) ? undefined : line[index + 1],
          sum,
        ),
      ),
    );
    if (before === undefined) {
      kept = [here.map((_, choice) => [{ cost: own[choice] as number, choice, previous: null, rank: choice }])];
      continue;
    }
    const next: Prefix[][][] = before.map(() => here.map(() => []));
    for (const [middle, second] of before.entries()) {
      for (const [choice, third] of here.entries()) {
        const step =
          (own[choice] as number) + (rests.has(index) ? 0 : sumOf((sum) => chargePair(ruling, second, third, sum)));
        const found: Prefix[] = [];
        for (const [first, byMiddle] of kept.entries()) {
          const start = rests.has(index) || rests.has(index - 1) ? undefined : earlier?.[first];
          const turn = start === undefined ? 0 : sumOf((sum) => chargeTriple(ruling, start, second, third, sum));
          for (const previous of byMiddle[middle] as Prefix[]) {
            found.push({ cost: previous.cost + step + turn, choice, previous, rank: previous.rank });
          }
        }
        (next[middle] as Prefix[][])[choice] = best(found, count);
      }
    }
    kept = next;
    rankAnew(kept.flat(2), here.length);
  }
  const ends = best(kept.flat(2), count);
  const found = line.length === 0 ? [[]] : ends.map((end) => chosenBy(end, choices));
  return { ok: true, value: found.map((each) => rateFingering(line, each, options)), warnings: [] };
}

/** The cheapest prefixes, alphabetical where costs are equal. */
function best(prefixes: Prefix[], count: number): Prefix[] {
  return prefixes.sort((a, b) => a.cost - b.cost || a.rank - b.rank).slice(0, count);
}

/** Gives each prefix its alphabetical rank: that of what it continues, then its own choice. */
function rankAnew(prefixes: readonly Prefix[], choiceCount: number): void {
  const order = [...prefixes].sort((a, b) => a.rank * choiceCount + a.choice - (b.rank * choiceCount + b.choice));
  for (const [rank, prefix] of order.entries()) prefix.rank = rank;
}

function chosenBy(end: Prefix, choices: readonly (readonly FingeredStrike[])[]): Finger[][] {
  const chosen: Finger[][] = [];
  let index = choices.length - 1;
  for (let at: Prefix | null = end; at !== null; at = at.previous, index--) {
    const strike = (choices[index] as readonly FingeredStrike[])[at.choice] as FingeredStrike;
    chosen.push(strike.map((each) => each.finger));
  }
  return chosen.reverse();
}

/**
 * What a given fingering costs, rule by rule.
 * @param fingers for each strike the fingers on its keys, lowest key first.
 * @param cyclic whether the line repeats without end, so that its last strike goes on to its first.
 * @throws RangeError where fingers and line differ in length.
 */
export function rateFingering(
  line: readonly Strike[],
  fingers: readonly (readonly Finger[])[],
  { side, model, restsBefore }: Pick<FingeringOptions, 'side' | 'model' | 'restsBefore'>,
  cyclic = false,
): Fingering {
  refuseUnordered(line);
  const ruling: Ruling = { side, model };
  const rests = new Set(restsBefore);
  if (fingers.length !== line.length || line.some((strike, index) => strike.length !== fingers[index]?.length)) {
    throw new RangeError('fingers must have one finger for each key of the line');
  }
  const strikes = line.map((strike, index) => finger(strike, fingers[index] as readonly Finger[]));
  const place = (index: number): number => (cyclic ? (index + line.length) % line.length : index);
  const costs = Object.fromEntries(FINGERING_RULES.map((rule) => [rule, 0])) as Record<FingeringRule, number>;
  let beyondPractical = 0;
  const charge: Charge = {
    add: (rule, cost) => {
      costs[rule] += cost;
    },
    beyondPractical: () => {
      beyondPractical++;
    },
  };
  for (const [index, strike] of strikes.entries()) {
    const before = rests.has(index) ? undefined : strikes[place(index - 1)];
    const after = rests.has(place(index + 1)) ? undefined : strikes[place(index + 1)];
    chargeStrike(ruling, strike, before?.map(keyOf), after?.map(keyOf), charge);
    if (before !== undefined) chargePair(ruling, before, strike, charge);
    if (before !== undefined && after !== undefined) chargeTriple(ruling, before, strike, after, charge);
  }
  let units = 0;
  for (const rule of FINGERING_RULES) {
    units += costs[rule];
    costs[rule] /= model.unitsPerPoint;
  }
  return { fingers, beyondPractical, points: units / model.unitsPerPoint, pointsByRule: costs };
}

function keyOf(at: FingeredKey): Midi {
  return at.key;
}

function refuseUnordered(line: readonly Strike[]): void {
  for (const strike of line) {
    if (strike.some((key, index) => index > 0 && key <= (strike[index - 1] as Midi))) {
      throw new RangeError(`line must have ascending keys in each strike, not ${strike.join(' ')}`);
    }
  }
}

function finger(strike: Strike, fingers: readonly Finger[]): FingeredStrike {
  return strike.map((key, index) => ({ key, finger: fingers[index] as Finger }));
}

function sumOf(charge: (sum: Sum) => void): number {
  const sum = new Sum();
  charge(sum);
  return sum.total;
}

function pinsByStrike(line: readonly Strike[], pins: readonly FingerPin[]): Map<number, FingerPin[]> {
  const byStrike = new Map<number, FingerPin[]>();
  for (const pin of pins) {
    if (line[pin.strike]?.includes(pin.key) !== true) {
      throw new RangeError(`pins must name keys of the line, not key ${pin.key} in strike ${pin.strike}`);
    }
    byStrike.set(pin.strike, [...(byStrike.get(pin.strike) ?? []), pin]);
  }
  return byStrike;
}

function issueOf(strike: Strike, index: number): Issue {
  const args = { strike: index + 1, keys: strike.length };
  return strike.length > 5 || strike.length === 0
    ? { code: 'fingering.too-many-keys', args, place: {} }
    : { code: 'fingering.pins-cross', args, place: {} };
}
