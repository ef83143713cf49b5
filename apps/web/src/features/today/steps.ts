/** The steps of the printed page as things one can start: what is played to each, and at which tempi. */
import {
  DEFAULT_TEMPO_BPM,
  formatKey,
  keysRound,
  type Chart,
  type DrillKindId,
  type DrillOrder,
  type Key,
  type Programme,
  type TrioPlayer,
} from '@fivespan/core';

export const STEPS = ['thumbs', 'positions', 'left hand', 'thirds', 'bars', 'own'] as const;
/** A step of the page, or a drill that was chosen. */
export type Step = (typeof STEPS)[number] | 'drill';

/** What counts as meant when a pass is heard: the thumbs alone, whatever the hand may play, or nothing (only the player knows). */
export type Meant = 'thumb' | 'inside' | null;

interface StepPlan {
  /** Null for the tune itself. */
  readonly drill: DrillKindId | null;
  readonly players: readonly TrioPlayer[];
  /** The first tempo, of a hundred of the tune's: as the printed page has it (formats, practice-steps.ts). */
  readonly fromPercent: number;
  readonly meant: Meant;
  /** Which of the hand's limits the ladder ends at; null where what is played was made no faster. */
  readonly limit: 'written' | 'own' | 'leftHand' | null;
}

const PLANS: Readonly<Record<(typeof STEPS)[number], StepPlan>> = {
  thumbs: { drill: 'thumbs', players: [], fromPercent: 50, meant: 'thumb', limit: null },
  positions: { drill: 'finger-patterns', players: [], fromPercent: 50, meant: 'inside', limit: null },
  'left hand': { drill: null, players: ['drums'], fromPercent: 60, meant: null, limit: 'leftHand' },
  thirds: { drill: 'in-thirds', players: [], fromPercent: 50, meant: 'inside', limit: null },
  bars: { drill: null, players: ['right hand', 'bass', 'drums'], fromPercent: 60, meant: 'inside', limit: 'written' },
  own: { drill: null, players: ['left hand', 'bass', 'drums'], fromPercent: 75, meant: 'inside', limit: 'own' },
};

/** Which of the hand's limits a step's ladder ends at; null where its drill was made no faster. */
export const limitOf = (step: Step): StepPlan['limit'] => (step === 'drill' ? null : PLANS[step].limit);

export const meantOf = (step: Step): Meant => (step === 'drill' ? 'inside' : PLANS[step].meant);

/** Steps of a ladder, ends included: our own. */
const RUNGS = 6;

/**
 * Tempi of a step, rising to the tune's own; within even numbers, as metronomes have them.
 * @example tempiFrom(60, 120) // → [60, 72, 84, 96, 108, 120]
 */
export function tempiFrom(fromBpm: number, toBpm: number): readonly number[] {
  const rungs = Math.max(1, Math.min(RUNGS, Math.floor((toBpm - fromBpm) / 4) + 1));
  const tempi = Array.from({ length: rungs }, (_, rung) =>
    rung === rungs - 1 ? toBpm : Math.round((fromBpm + ((toBpm - fromBpm) * rung) / Math.max(1, rungs - 1)) / 2) * 2,
  );
  return [...new Set(tempi)].toSorted((a, b) => a - b);
}

/** The tempi of a step for a chart. Playing goes down to half of what was made ready. */
export function tempiOf(step: Step, chart: Chart): readonly number[] {
  const tempoBpm = chart.tempoBpm ?? DEFAULT_TEMPO_BPM;
  const percent = step === 'drill' ? 60 : PLANS[step].fromPercent;
  return tempiFrom(Math.max(Math.ceil(tempoBpm / 2), Math.round((tempoBpm * percent) / 200) * 2), tempoBpm);
}

/** The keys a step goes through: one, or all twelve by fourths. */
export function keysOf(home: Key, isAll: boolean): readonly string[] {
  return isAll ? keysRound(home, 'fourths', 1).map(formatKey) : [formatKey(home)];
}

/** What is played of a step in one key, at its fastest tempo: a drill, or the tune by some of the players. */
export function playedOf(
  step: Step,
  key: Key,
  tempoBpm: number,
  from: { readonly programme: Programme; readonly drill: DrillOrder | null },
): { readonly programme: Programme; readonly drill: DrillOrder | null } {
  const plan = step === 'drill' ? null : PLANS[step];
  const programme: Programme = {
    ...from.programme,
    setUp: plan?.players.includes('left hand') === true ? 'trio' : from.programme.setUp,
    countInBars: Math.max(1, from.programme.countInBars),
    aids: { ...from.programme.aids, answers: 'none' },
    choruses: [{ key, tempoBpm, players: plan === null || plan.players.length === 0 ? ['drums'] : plan.players }],
  };
  const tempi = { steps: [tempoBpm] };
  if (plan === null) return { programme, drill: from.drill === null ? null : { ...from.drill, keys: [key], tempi } };
  return { programme, drill: plan.drill === null ? null : { kind: plan.drill, bars: null, keys: [key], tempi } };
}
