import { NO_ANALYSIS_PINS, type Analysis, type AnalysisPins } from '../analysis/index.ts';
import type { Chart } from '../chart/index.ts';
import type { Scene } from '../film/index.ts';
import type { HandSize } from '../hand/index.ts';
import {
  NO_PART_PINS,
  type BassChoice,
  type CompDensity,
  type PartNotes,
  type PartPins,
  type Phrase,
  type VoicingKind,
} from '../parts/index.ts';
import type { Performance } from '../performance/index.ts';
import { NO_PLAN_PINS, type Plan, type PlanPins } from '../plan/index.ts';
import type { Score } from '../score/index.ts';
import type { Programme } from './programme/programme.ts';
import type { Key } from '../theory/index.ts';

export const PLAY_PAGES = ['one way', 'free hand'] as const;
type PlayPage = (typeof PLAY_PAGES)[number];

/** What the teacher chose. With the chart, enough to make everything again. */
export interface Choices {
  /** The key it is shown and played in; null for the chart's own. The chart and the pins are kept as they are written. */
  readonly shownIn: Key | null;
  /** The keys asked for to hand out; empty for the one it is shown in. */
  readonly keys: readonly Key[];
  readonly seed: number;
  /** 1 (plain) to 4 (free): how the bass walks, how busy the chorus is and how far outside it goes. */
  readonly level: 1 | 2 | 3 | 4;
  /** The teacher's own curve of outsideness over the form, 0 (inside) to 3 in equal stretches; empty for the level's own. */
  readonly curve: readonly number[];
  /** How the bass walks, apart from its level. */
  readonly bass: BassChoice;
  /** How densely the left hand comps in a trio. */
  readonly comping: CompDensity;
  /** What kind of voicings are written and shown. */
  readonly voicings: VoicingKind;
  readonly hand: HandSize;
  /** What the printed play page shows: the route's one thumb now and next, or every thumb that the hand may take. */
  readonly playPage: PlayPage;
  /** What is played, chorus after chorus; null where no table was kept. */
  readonly programme: Programme | null;
  /** The scenes of its film, in order; null for the usual ones. */
  readonly film: readonly Scene[] | null;
  /** Phrases that the teacher keeps by name, in the chart's own key. */
  readonly phrases: readonly Phrase[];
  readonly pins: { readonly analysis: AnalysisPins; readonly plan: PlanPins; readonly parts: PartPins };
}

/**
 * The seed of another chorus: the next one, the first again after the last.
 * @example nextSeed(7) // → 8
 */
export function nextSeed(seed: number): number {
  return (seed + 1) % 0x1_0000_0000;
}

/** What is chosen where the teacher chose nothing. */
export const DEFAULT_CHOICES: Choices = {
  shownIn: null,
  keys: [],
  seed: 1,
  level: 1,
  curve: [],
  bass: { feel: null, range: 'left hand' },
  comping: 'usual',
  voicings: 'rootless',
  hand: 'medium',
  playPage: 'one way',
  programme: null,
  film: null,
  phrases: [],
  pins: { analysis: NO_ANALYSIS_PINS, plan: NO_PLAN_PINS, parts: NO_PART_PINS },
};

/** A chart in one key with everything computed from it. Never stored. */
export interface Lesson extends PartNotes {
  readonly chart: Chart;
  /** The key of the chart as it is written, stated or found: where the pins are kept. */
  readonly writtenKey: Key;
  /** As they were chosen; the pins moved to this key. */
  readonly choices: Choices;
  readonly analysis: Analysis;
  readonly plan: Plan;
  readonly score: Score;
  readonly performance: Performance;
}
