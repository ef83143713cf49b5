import { analyse } from '../../analysis/index.ts';
import { DRILLS, drawMotiveFor, motiveIn, pulsesOf, type ChorusNote, type DrillKindId } from '../../parts/index.ts';
import type { Issue, Result } from '../../issue/index.ts';
import { planRoute } from '../../plan/index.ts';
import { randomSource } from '../../random.ts';
import { DEFAULT_TEMPO_BPM } from '../../score/index.ts';
import { barsOf, type Chart } from '../../chart/index.ts';
import { formatKey, type Key } from '../../theory/index.ts';
import type { Choices } from '../lesson.ts';
import { groundOf, makeLesson, routeOptionsOf } from '../make-lesson.ts';
import { NO_AIDS } from '../programme/aids.ts';
import { inTurn, type Programme } from '../programme/programme.ts';
import { asChorusNote, drilledLesson, type DrilledLesson } from './drilled-lesson.ts';
import { movedLine, movedPlan, notesOver, sourceBars, type BarRange, type Home } from './drill-source.ts';
import { phraseAtHome } from './phrase-line.ts';
import { tempoLadder, type TempiAsked, type TempoLadder } from './tempo-ladder.ts';

/** What a teacher asks for. */
export interface DrillOrder {
  readonly kind: DrillKindId;
  /** Written bars; null for all of them. */
  readonly bars: BarRange | null;
  /** In turn; empty for the chart's own. */
  readonly keys: readonly Key[];
  /** Null for a ladder of its own. */
  readonly tempi: TempiAsked | null;
  /** A phrase of the lesson's list, by name: the line that is kept in every key. Left out: what the chorus plays there. */
  readonly phrase?: string;
}

/** A drill in one of its keys. */
export interface DrillInKey extends DrilledLesson {
  readonly key: Key;
}

/** A drill: the same bars in each key, in turn, with its ladder of tempi. Never stored. */
export interface Drill {
  readonly order: DrillOrder;
  readonly keys: readonly DrillInKey[];
  readonly ladder: TempoLadder;
}

function refuse(code: Issue['code'], args: Issue['args']): Result<never> {
  return { ok: false, issues: [{ code, args, place: {} }] };
}

/** The line that is kept: the chorus's own over these bars; where it rests there, a motive in each of them. */
function lineAtHome(chart: Chart, choices: Choices, home: Home, range: BarRange | null): readonly ChorusNote[] {
  const bars = sourceBars(home.ground, home.plan, range);
  const sung = notesOver(makeLesson(chart, choices).chorus, home.plan, bars);
  const [first] = bars;
  if (sung.length > 0 || first === undefined) return sung;
  const motive = drawMotiveFor(pulsesOf(first.playedBar), choices.level, randomSource(choices.seed, 'drill same-line'));
  return bars.flatMap(({ slots }) => motiveIn(slots, motive).map(asChorusNote));
}

/**
 * Makes a drill of a chart, or of some of its bars, in one key after the other. The hand's way is the chart's own at home, moved into
 * each key as it stands, so that the fingers do the same everywhere. Pure: the same chart, choices and order give the same drill.
 * @returns an issue where the chart has none of the bars, or nothing in them for this kind
 * @example makeDrill(chart, DEFAULT_CHOICES, { kind: 'thumbs', bars: { from: 5, to: 8 }, keys: [], tempi: null })
 */
export function makeDrill(chart: Chart, choices: Choices, order: DrillOrder): Result<Drill> {
  const kind = DRILLS[order.kind];
  const written = analyse(chart, choices.pins.analysis);
  const ground = groundOf(chart, choices, null, written);
  const plan = planRoute(ground.analysis, routeOptionsOf(ground.analysis, choices, ground.pins));
  const home = { ground, plan };
  let range = order.bars;
  let homeLine: readonly ChorusNote[] | undefined;
  const last = barsOf(chart).reduce((highest, { number }) => Math.max(highest, number), 0);
  // a drill of the bars there are would say that it has all that were asked for
  if (sourceBars(ground, plan, range).length === 0 || (range !== null && range.to > last)) {
    return refuse('drill.no-bars', { from: order.bars?.from ?? 1, to: order.bars?.to ?? last, last });
  }
  if (order.phrase !== undefined && order.kind === 'same-line') {
    const found = phraseAtHome(chart, choices, home, range, order.phrase);
    if (!found.ok) return found;
    range = found.value.bars;
    homeLine = found.value.line;
  }
  const keys: DrillInKey[] = [];
  for (const key of order.keys.length === 0 ? [ground.analysis.key] : order.keys) {
    const isHome = formatKey(key) === formatKey(ground.analysis.key);
    const moved = movedPlan(home, isHome ? ground : groundOf(chart, choices, key, written), choices);
    const bars = sourceBars(moved.ground, moved, range);
    const passages = kind.passages(bars, {
      level: choices.level,
      hand: choices.hand,
      semitones: moved.semitones,
      random: (name) => randomSource(choices.seed, `drill ${order.kind} ${name}`),
      line: () => {
        homeLine ??= lineAtHome(chart, choices, home, range);
        return movedLine(homeLine, ground.analysis.key, moved, bars);
      },
    });
    if (passages.length === 0) return refuse('drill.nothing', { kind: order.kind });
    keys.push({ key: moved.ground.analysis.key, ...drilledLesson(kind, passages, moved.ground, choices) });
  }
  const lessons = keys.map(({ lesson }) => lesson);
  const ladder = tempoLadder(lessons, kind.inPositions, order.tempi, chart.tempoBpm ?? DEFAULT_TEMPO_BPM);
  return { ok: true, value: { order: { ...order, bars: range }, keys, ladder }, warnings: [] };
}

/** A drill as a programme to be played: at each tempo once through each key, the right hand heard with the band. */
export function programmeOfDrill(
  { keys, ladder }: Drill,
  players: Programme['choruses'][number]['players'],
  aids: Programme['aids'] = NO_AIDS,
): Programme {
  return {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 2,
    aids,
    choruses: inTurn({ keys: keys.map(({ key }) => key), tempi: ladder.tempi, choruses: 1, players }),
  };
}
