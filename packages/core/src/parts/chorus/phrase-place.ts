import { beatTicksOf, TICKS_PER_QUARTER, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { GAP_LESS } from './growth.ts';
import { atLevel, type ByLevel, type ChorusLevel } from './level.ts';
import type { PhraseGround } from './phrase-ground.ts';
import { PHRASE_GAP_TICKS } from './phrase.ts';
import { cellTicksOf } from './pulse.ts';

/** Where a phrase has its first and its last note, and how long that one may be. */
export interface PhrasePlace {
  readonly firstTicks: number;
  readonly lastTicks: number;
  readonly lastDurationTicks: number;
}

/** A place a note can begin: an eighth of its bar. */
interface Cell {
  readonly startTicks: number;
  readonly cellTicks: number;
  /** 0 … 7: which eighth of the bar it would be if the bar were in four. */
  readonly eighth: number;
  /** Counted from the bar's start. */
  readonly beat: number;
}

/**
 * Where phrases begin and end, by eighths of the bar, in thousandths. Source: 1,387 phrases of open Weimar solos (first notes 147 167
 * 126 117 135 97 89 122, last notes 134 132 80 153 122 124 114 141; C). Beginnings here lean to the last three eighths, so
 * that a third or more lead over a bar line.
 */
const FIRST_WEIGHTS = [150, 120, 90, 85, 90, 150, 135, 240] as const;
const LAST_WEIGHTS = [134, 132, 80, 153, 122, 124, 114, 141] as const;

/** From a last note to the next first one, in half quarters from three on. Source: the same solos, thousandths (C). */
const GAP_FROM = 3;
const GAP_WEIGHTS = [124, 211, 117, 126, 49, 63, 30, 51, 23, 30] as const;
/** By level, the shortest and the longest gap that is drawn, as indices: a freer player breathes less. Our own. */
const GAP_MOST: ByLevel = [9, 7, 7, 7];

/** From a phrase's first note to its last, in quarters. Source: the same solos, thousandths; shorter and longer ones left out (C). */
const LENGTHS = [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16] as const;
const LENGTH_WEIGHTS = [100, 83, 103, 78, 97, 53, 56, 40, 48, 31, 32, 16] as const;
/** What is added to a length so that a plainer line, with fewer notes a bar, still says something. Our own. */
const LONGER: ByLevel = [2, 2, 1, 1];

/** By level, the longest length that is drawn, as an index: with sixteenths a line of 16 quarters would never breathe. Our own. */
const LONGEST: ByLevel = [11, 11, 11, 9];

/** A last note's length in cells, and how often. Our own; none may be the ending of every second phrase. */
const LAST_CELLS = [1, 2, 3, 4] as const;
const LAST_CELL_WEIGHTS = [3, 3, 4, 4] as const;

/** How far from the wished breath's end a phrase may begin: three quarters. */
const NEAR_TICKS = 3 * TICKS_PER_QUARTER;

/** A phrase takes two quarters at least, and a chorus lands a quarter before its end. */
const SHORTEST_TICKS = 2 * TICKS_PER_QUARTER;
const LANDING_TICKS = TICKS_PER_QUARTER;

/** Between the shortest breath and the last moment to begin: an eighth, so that there is a choice. */
const CHOICE_TICKS = TICKS_PER_QUARTER / 2;

/** How far a phrase may end from where its length says, either way; a line that is away goes on this many times as far. */
const END_SLACK_TICKS = 2 * TICKS_PER_QUARTER;
const WAY_HOME = 2;

function cellsOf(bars: readonly PlayedBar[]): Cell[] {
  return bars.flatMap(({ bar, startTicks }) => {
    const cellTicks = cellTicksOf(bar.meter);
    return Array.from({ length: Math.floor(bar.durationTicks / cellTicks) }, (_, cell): Cell => ({
      startTicks: startTicks + cell * cellTicks,
      cellTicks,
      eighth: Math.floor((8 * cell * cellTicks) / bar.durationTicks),
      beat: Math.floor((cell * cellTicks) / beatTicksOf(bar.meter)),
    }));
  });
}

function drawn<Value>(
  values: readonly Value[],
  weightOf: (value: Value) => number,
  random: RandomSource,
): Value | null {
  const weights = values.map(weightOf);
  return weights.some((weight) => weight > 0) ? (values[random.weighted(weights)] as Value) : null;
}

/**
 * Where the phrases of a chorus are: they begin and end in different places of the bar, never three running on one beat, and
 * breathe for a quarter at least. Bar lines and sections do not stop them. No silence swallows a coloured stretch, and what goes outside
 * comes home before a phrase ends, where the form leaves room.
 * @param bars full ones, in order
 * @param growth how far the chorus has grown (growth.ts)
 */
export function phrasePlaces(
  bars: readonly PlayedBar[],
  level: ChorusLevel,
  ground: PhraseGround,
  growth: number,
  random: RandomSource,
): PhrasePlace[] {
  const cells = cellsOf(bars);
  const lastBar = bars.at(-1);
  if (lastBar === undefined) return [];
  const endTicks = lastBar.startTicks + lastBar.bar.durationTicks;
  const places: PhrasePlace[] = [];
  const beats: number[] = [];
  let earliest = bars[0]?.startTicks ?? 0;
  while (earliest < endTicks) {
    const isFirst = places.length === 0;
    const wanted = earliest + (isFirst ? 0 : drawGap(level, growth, random));
    const isThird = ({ beat }: Cell): boolean => beats.length >= 2 && beats.slice(-2).every((each) => each === beat);
    const heardTo = places.at(-1)?.lastTicks ?? Number.NEGATIVE_INFINITY;
    const near = cellsNear(cells, earliest, wanted, (ticks) => isSwallowed(ground, heardTo, ticks));
    // a phrase has room to land; the first one of a short form begins whatever comes
    const roomy = near.filter(({ startTicks }) => endTicks - startTicks >= SHORTEST_TICKS + LANDING_TICKS);
    const any = roomy.length > 0 ? roomy : near.slice(0, isFirst ? 1 : 0);
    const open = any.filter((cell) => !isThird(cell));
    const first = drawn(
      open.length > 0 ? open : any,
      // the wished breath first, the place in the bar second; where the changes do not let it breathe so long, the place alone
      ({ startTicks, eighth }) => {
        const later = Math.floor(Math.max(0, startTicks - wanted) / TICKS_PER_QUARTER);
        return Math.max(1, Math.floor((FIRST_WEIGHTS[eighth] as number) / (2 + later)));
      },
      random,
    );
    if (first === null) break;
    const place = placeFrom(first, cells, endTicks, level, ground, random, places.at(-1));
    if (place === null) {
      // nothing to rest on within reach: try from the next bar's worth of cells on
      earliest = first.startTicks + first.cellTicks;
      continue;
    }
    places.push(place);
    beats.push(first.beat);
    earliest = place.lastTicks + place.lastDurationTicks + PHRASE_GAP_TICKS;
  }
  return places;
}

/** Whether a silence from one note to another takes a whole coloured stretch. */
function isSwallowed({ coloured }: PhraseGround, heardTo: number, firstTicks: number): boolean {
  return coloured.some(({ startTicks, byTicks }) => startTicks > heardTo && byTicks < firstTicks);
}

/** Where a phrase may begin: near where the wished breath ends; earlier where that would swallow a coloured stretch. */
function cellsNear(
  cells: readonly Cell[],
  earliest: number,
  wanted: number,
  swallows: (ticks: number) => boolean,
): readonly Cell[] {
  const from = (ticks: number): readonly Cell[] =>
    cells.filter(({ startTicks }) => startTicks >= ticks && startTicks < ticks + NEAR_TICKS);
  const near = from(wanted);
  const heard = near.filter(({ startTicks }) => !swallows(startTicks));
  if (heard.length > 0) return heard;
  const before = from(earliest).filter(({ startTicks }) => startTicks < wanted && !swallows(startTicks));
  return before.length > 0 ? before : near;
}

/** Silence beyond the quarter that parts two phrases. */
function drawGap(level: ChorusLevel, growth: number, random: RandomSource): number {
  const most = atLevel(GAP_MOST, level) - GAP_LESS * growth;
  const weights = GAP_WEIGHTS.map((weight, index) => (index <= most ? weight : 0));
  const halves = GAP_FROM + random.weighted(weights);
  return Math.max(0, (halves * TICKS_PER_QUARTER) / 2 - PHRASE_GAP_TICKS - TICKS_PER_QUARTER);
}

/**
 * Until when a last note may sound so that the next coloured stretch can still be heard after a breath; the form's end where none
 * comes.
 */
function soundsUntil({ coloured }: PhraseGround, lastTicks: number, formEnd: number): number {
  const next = coloured.find(({ startTicks }) => startTicks > lastTicks);
  if (next === undefined) return formEnd;
  return Math.min(next.byTicks, formEnd - SHORTEST_TICKS - LANDING_TICKS) - PHRASE_GAP_TICKS - CHOICE_TICKS;
}

function placeFrom(
  first: Cell,
  cells: readonly Cell[],
  formEnd: number,
  level: ChorusLevel,
  ground: PhraseGround,
  random: RandomSource,
  before: PhrasePlace | undefined,
): PhrasePlace | null {
  const lengths = LENGTH_WEIGHTS.map((weight, index) => (index <= atLevel(LONGEST, level) ? weight : 0));
  const length = (LENGTHS[random.weighted(lengths)] as number) + atLevel(LONGER, level);
  const wanted = first.startTicks + length * TICKS_PER_QUARTER;
  const shortest = first.startTicks + SHORTEST_TICKS;
  const open = cells.filter(({ startTicks }) => startTicks >= shortest && ground.canRest(startTicks));
  // a chorus lands: its last note is not cut off by the form's end
  const landing = open.filter(({ startTicks }) => startTicks <= formEnd - LANDING_TICKS);
  const leavesRoom = ({ startTicks, cellTicks }: Cell): boolean =>
    startTicks + cellTicks <= soundsUntil(ground, startTicks, formEnd);
  const heard = landing.filter(leavesRoom);
  const home = heard.filter(({ startTicks }) => !ground.isAway(startTicks));
  const rests = [heard, landing, open].find((each) => each.length > 0) ?? [];
  const between = (cellsOpen: readonly Cell[], slack: number): readonly Cell[] =>
    cellsOpen.filter(
      ({ startTicks }) => startTicks >= wanted - END_SLACK_TICKS && startTicks <= wanted + slack * END_SLACK_TICKS,
    );
  // what is away goes on a while to come home
  const near =
    [between(home, 1), between(home, WAY_HOME), between(rests, 1), between(landing, 1)].find(
      (each) => each.length > 0,
    ) ?? [];
  // the form's end or a stretch without a place to rest: the nearest one
  const last = drawn(near, ({ eighth }) => LAST_WEIGHTS[eighth] as number, random) ?? nearest(rests, wanted);
  if (last === null) return null;
  const until = soundsUntil(ground, last.startTicks, formEnd);
  // two endings running are not alike
  const isAlike = (count: number): boolean => count * last.cellTicks === before?.lastDurationTicks;
  const weights = LAST_CELL_WEIGHTS.map((weight, index) => {
    const count = LAST_CELLS[index] as number;
    return isAlike(count) || (count > 1 && last.startTicks + count * last.cellTicks > until) ? 0 : weight;
  });
  const lastCells = weights.some((weight) => weight > 0) ? (LAST_CELLS[random.weighted(weights)] as number) : 1;
  const lastDurationTicks = Math.min(lastCells * last.cellTicks, formEnd - last.startTicks);
  return { firstTicks: first.startTicks, lastTicks: last.startTicks, lastDurationTicks };
}

/** The cell nearest to a tick; of two the earlier. Null where there is none. */
function nearest(cells: readonly Cell[], ticks: number): Cell | null {
  const away = ({ startTicks }: Cell): number => Math.abs(startTicks - ticks);
  return cells.reduce<Cell | null>((best, each) => (best === null || away(each) < away(best) ? each : best), null);
}
