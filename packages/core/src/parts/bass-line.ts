import type { RandomSource } from '../random.ts';
import { midi, pitchClassOf, type Midi, type NoteName } from '../theory/index.ts';
import type { Approach } from './approach-note.ts';
import type { BassNote, BassRange } from './note.ts';
import type { WalkingTone } from './walking-tones.ts';

/**
 * The left hand's range: F1 to E3, two octaves, so that every note has two keys, all of them below the right hand's lowest
 * (plan/route-cost.ts). Our own choice.
 */
export const LOWEST_BASS = 29;
export const HIGHEST_BASS = 52;
/** Keys each may play: a double bass from its open E to the G two octaves and a third above, as it sounds. Common practice. */
export const BASS_KEYS: Readonly<Record<BassRange, { readonly lowest: number; readonly highest: number }>> = {
  'left hand': { lowest: LOWEST_BASS, highest: HIGHEST_BASS },
  'double bass': { lowest: 28, highest: 55 },
};
/** Where the line likes to be: C2 to D3, above the mud. Common practice. */
const HOME_LOW = 36;
const HOME_HIGH = 50;

/** Costs of the octave choice; integers, so that every machine decides alike. */
const COST = {
  /** A semitone of motion. */
  semitone: 2,
  /** A semitone outside the home range. */
  strayed: 1,
  /** An octave up or down where the line may leap. */
  octaveLeap: 8,
  /** A tritone's leap onto a note that leads on, within a chord: two crooked steps running. */
  crooked: 5,
  /** A motion beyond the octave, on top. */
  wide: 40,
  /** The root on a bar's last beat, before itself, elsewhere than an octave from the root two beats before. */
  noOctave: 30,
  /** The widest seeded whim, of each way to approach: four semitones of motion. */
  whim: 8,
  /** The same for each note a free line may take. */
  toneWhim: 7,
  /** A free line that turns, and one that sways back to the note before last. */
  turned: 3,
  swayed: 14,
} as const;

/** One beat of the line before it has an octave. */
export interface BassStep {
  readonly slotIndex: number;
  readonly startTicks: number;
  readonly durationTicks: number;
  /** What it may be; several where the line is free. */
  readonly tones: readonly WalkingTone[];
  /** For an approach: the ways into the note that follows, in place of tones; empty otherwise. */
  readonly approaches: readonly Approach[];
  /** A root that will be followed by itself across the bar line: R 5 R′ in three. */
  readonly turnsBack: boolean;
  /** Whether it may stand on the pitch before: a pedal point. */
  readonly isPedal?: boolean;
  /** Whether it may leap an octave for little. */
  readonly leaps?: boolean;
  /** Whether the line should go somewhere: turning back and swaying cost. */
  readonly walks: boolean;
}

/** What a line of steps keeps to beside the steps' own rules. */
export interface BassBounds {
  readonly range: BassRange;
  /** The key struck just before the line begins, which it does not repeat; null where nobody played. */
  readonly after: Midi | null;
  /** Extra cost of a key at a step, by `step:key`: what has been heard often enough. */
  readonly worn: ReadonlyMap<string, number>;
}
export const FREE_BOUNDS: BassBounds = { range: 'left hand', after: null, worn: new Map() };

/** A step at a pitch, with the way there. */
export interface BassStepChoice {
  readonly name: NoteName;
  readonly midi: Midi;
  readonly function: BassNote['function'];
  readonly leaving: WalkingTone['leaving'];
  readonly approach: Approach | null;
  readonly cost: number;
  readonly before: BassStepChoice | null;
}

/** A pitch a step may have, with its own cost. */
export type OpenChoice = Omit<BassStepChoice, 'before'>;

/** Every key of the range that sounds as this note. */
function keysOf(name: NoteName, range: BassRange): Midi[] {
  const { lowest, highest } = BASS_KEYS[range];
  const keys: Midi[] = [];
  const first = lowest + ((pitchClassOf(name) - (lowest % 12) + 12) % 12);
  for (let key = first; key <= highest; key += 12) keys.push(midi(key));
  return keys;
}

function strayCost(key: number): number {
  return COST.strayed * (Math.max(0, HOME_LOW - key) + Math.max(0, key - HOME_HIGH));
}

/** Whether a note may be left towards this key: a scale note by step, a chromatic one by a half step on the way it came. */
function mayLeave(from: BassStepChoice, to: Midi): boolean {
  const way = to - from.midi;
  if (from.approach !== null) {
    const climbs = from.before !== null && from.midi - from.before.midi === way && Math.abs(way) === 1;
    return from.approach.leadsTo(from.midi, to) && (climbs || !from.approach.needsClimb);
  }
  // on the far side of the goal: the approach comes from the other
  if (from.leaving === 'around down') return way === -2 || way === -3;
  if (from.leaving === 'around up') return way === 2 || way === 3;
  if (from.leaving === 'free') return true;
  if (from.leaving === 'by step') return Math.abs(way) <= 2;
  const on = from.leaving === 'on up' ? 1 : -1;
  return way === on && from.before !== null && from.midi - from.before.midi === on;
}

/** What it costs to go from one pitch to the next; null where it must not be: no pitch comes twice running. */
export function motionCost(from: BassStepChoice, to: Midi, step: BassStep, leadsOn = false): number | null {
  const way = to - from.midi;
  if (way === 0 && from.function === 'pedal' && step.isPedal) return 0;
  if (way === 0 || !mayLeave(from, to)) return null;
  const interval = Math.abs(way);
  const secondBefore = from.before?.midi ?? to;
  const noOctave = step.turnsBack && Math.abs(to - secondBefore) !== 12;
  // what leads in by a leap is judged by its kind, not by its size
  const isOctave = interval === 12 && step.leaps === true;
  const size = isOctave ? COST.octaveLeap : from.approach === null ? interval * COST.semitone : 0;
  let cost = size + (interval > 12 ? COST.wide : 0) + (noOctave ? COST.noOctave : 0);
  if (leadsOn && interval === 6) cost += COST.crooked;
  if (step.walks && from.before !== null) {
    if (to === secondBefore) cost += COST.swayed;
    else if (way * (from.midi - secondBefore) < 0) cost += COST.turned;
  }
  return cost;
}

/** The pitches a step may have, each with its own cost. */
export function openChoices(step: BassStep, random: RandomSource, range: BassRange = 'left hand'): OpenChoice[] {
  const free = step.tones.flatMap(({ name, function: role, cost, leaving }) => {
    const whim = step.tones.length > 1 ? random.integer(COST.toneWhim + 1) : 0;
    return keysOf(name, range).map((key): OpenChoice => {
      return { name, midi: key, function: role, leaving, approach: null, cost: cost + whim + strayCost(key) };
    });
  });
  const leading = step.approaches.flatMap((approach) => {
    const whim = random.integer(COST.whim + 1);
    return keysOf(approach.name, range).map((key): OpenChoice => {
      const cost = approach.cost + whim + strayCost(key);
      return { name: approach.name, midi: key, function: 'approach', leaving: 'free', approach, cost };
    });
  });
  return [...free, ...leading];
}

/** The cheapest choice of octaves and approach notes for a stretch without rests, exactly, looking back two notes. */
export function cheapestBass(
  steps: readonly BassStep[],
  random: RandomSource,
  bounds: BassBounds = FREE_BOUNDS,
): BassStepChoice[] {
  const open = steps.map((step) => openChoices(step, random, bounds.range));
  return leadBass(steps, open, bounds);
}

/**
 * The same among pitches that are drawn already. `known` are the ways to the first steps where those were led before with the same
 * costs; those of the others are added.
 */
export function leadBass(
  steps: readonly BassStep[],
  open: readonly (readonly OpenChoice[])[],
  { after, worn }: BassBounds,
  known: BassStepChoice[][] = [],
): BassStepChoice[] {
  for (let index = known.length; index < steps.length; index++) {
    const isLast = index === steps.length - 1;
    const reached: BassStepChoice[] = [];
    for (const choice of open[index] as readonly OpenChoice[]) {
      // nothing follows that a scale note could lead to
      if ((isLast && choice.leaving !== 'free') || (index === 0 && choice.midi === after)) continue;
      const own = choice.cost + (worn.get(`${index}:${choice.midi}`) ?? 0);
      if (index === 0) reached.push(reachedBy(choice, own, null));
      else addWaysTo(reached, choice, own, steps[index] as BassStep, known[index - 1] as BassStepChoice[]);
    }
    known.push(reached);
  }
  const line: BassStepChoice[] = [];
  let last: BassStepChoice | null = (known.at(-1) ?? []).reduce<BassStepChoice | null>(
    (best, each) => (best === null || each.cost < best.cost ? each : best),
    null,
  );
  for (; last !== null; last = last.before) line.push(last);
  return line.reverse();
}

/** Adds the cheapest way to a pitch from each pitch before it, which the next step may look at. */
function addWaysTo(
  ways: BassStepChoice[],
  choice: OpenChoice,
  own: number,
  step: BassStep,
  reached: readonly BassStepChoice[],
): void {
  const best = new Map<Midi, { cost: number; before: BassStepChoice }>();
  for (const from of reached) {
    const motion = motionCost(from, choice.midi, step, choice.approach !== null);
    if (motion === null) continue;
    const cost = from.cost + motion + own;
    const cheapest = best.get(from.midi);
    if (cheapest === undefined) best.set(from.midi, { cost, before: from });
    else if (cost < cheapest.cost) [cheapest.cost, cheapest.before] = [cost, from];
  }
  for (const { cost, before } of best.values()) ways.push(reachedBy(choice, cost, before));
}

/** Field by field: there are tens of thousands a line, and a spread takes three times as long. */
export function reachedBy(choice: OpenChoice, cost: number, before: BassStepChoice | null): BassStepChoice {
  const { name, midi: key, function: role, leaving, approach } = choice;
  return { name, midi: key, function: role, leaving, approach, cost, before };
}
