import {
  barsOf,
  DEFAULT_TEMPO_BPM,
  keysRound,
  type Chart,
  type DrillKindId,
  type DrillOrder,
  type Key,
  type KeyRound,
} from '@fivespan/core';
import { atom } from 'nanostores';

/** What one asks of a drill, as the fields have it. Kept while one goes to other screens and back. */
export interface DrillChoice {
  readonly lessonId: string;
  readonly kind: DrillKindId;
  readonly fromBar: number;
  readonly toBar: number;
  /** Null for the key the lesson is shown in alone. */
  readonly round: KeyRound | null;
  readonly keyCount: number;
  readonly fromBpm: number;
  readonly toBpm: number;
  /** A kept phrase, by name, in place of what the chorus plays; only the same line in every key takes it. */
  readonly phrase: string | null;
  /** Whether a phrase is put over the chosen bars; else it is over chords like its own, wherever the chart has them. */
  readonly isPhraseOverBars: boolean;
}

export const MOST_KEYS = 12;

/** A drill is made of few bars; a short tune is taken whole. */
const USUAL_BARS = 4;

export const $drillChoice = atom<DrillChoice | null>(null);

/** The last written bar, as counted on paper. */
export function lastBarOf(chart: Chart): number {
  return barsOf(chart).reduce((highest, { number }) => Math.max(highest, number), 1);
}

/** A tempo's share, to the nearest even number. */
const share = (tempoBpm: number, percent: number): number => Math.round((tempoBpm * percent) / 200) * 2;

/** What is chosen for a lesson; another one begins with the thumbs over its first bars. Bars that are gone are those at the end. */
export function drillChoiceFor(lessonId: string, chart: Chart, choice: DrillChoice | null): DrillChoice {
  const last = lastBarOf(chart);
  if (choice === null || choice.lessonId !== lessonId) {
    const tempoBpm = chart.tempoBpm ?? DEFAULT_TEMPO_BPM;
    return {
      lessonId,
      kind: 'thumbs',
      fromBar: 1,
      toBar: Math.min(USUAL_BARS, last),
      round: null,
      keyCount: MOST_KEYS,
      fromBpm: share(tempoBpm, 60),
      toBpm: tempoBpm,
      phrase: null,
      isPhraseOverBars: false,
    };
  }
  const toBar = Math.min(choice.toBar, last);
  return { ...choice, toBar, fromBar: Math.min(choice.fromBar, toBar) };
}

/** Chooses something else; the ends of bars and tempi stay in order. */
export function chooseDrill(now: DrillChoice, change: Partial<Omit<DrillChoice, 'lessonId'>>): void {
  const next = { ...now, ...change };
  $drillChoice.set({
    ...next,
    toBar: change.fromBar === undefined ? next.toBar : Math.max(next.toBar, change.fromBar),
    fromBar: change.toBar === undefined ? next.fromBar : Math.min(next.fromBar, change.toBar),
    toBpm: change.fromBpm === undefined ? next.toBpm : Math.max(next.toBpm, change.fromBpm),
    fromBpm: change.toBpm === undefined ? next.fromBpm : Math.min(next.fromBpm, change.toBpm),
  });
}

/** What is asked of the makers. */
export function drillOrderOf(
  { kind, fromBar, toBar, round, keyCount, fromBpm, toBpm, phrase, isPhraseOverBars }: DrillChoice,
  home: Key,
  seed: number,
): DrillOrder {
  const isPhrase = phrase !== null && kind === 'same-line';
  return {
    kind,
    ...(isPhrase ? { phrase } : {}),
    bars: isPhrase && !isPhraseOverBars ? null : { from: fromBar, to: toBar },
    keys: round === null ? [home] : keysRound(home, round, seed).slice(0, keyCount),
    tempi: { fromBpm, toBpm },
  };
}
