import type { AnalysedSlot } from '../analysis/index.ts';
import type { PlayedBar, PlayedSlot } from '../chart/index.ts';
import { randomSource, type RandomSource } from '../random.ts';
import { midiOf, type Midi } from '../theory/index.ts';
import {
  leadBass,
  motionCost,
  openChoices,
  reachedBy,
  type BassBounds,
  type BassStep,
  type BassStepChoice,
  type OpenChoice,
} from './bass-line.ts';
import type { PartNote } from './note.ts';
import { costsUnderLine, type AboveNote } from './under-line.ts';

/** A bar of a bass line: where its notes fall and how far each is from the first. */
export interface BarFigure {
  readonly startTicks: number;
  readonly endTicks: number;
  /** The key of its first note. */
  readonly first: Midi;
  readonly text: string;
}

/** A figure with one more note; a note of another bar begins a figure. */
function grown(figure: BarFigure | undefined, playedBar: PlayedBar, atTicks: number, key: Midi): BarFigure {
  const { startTicks, bar } = playedBar;
  const isSame = figure !== undefined && figure.startTicks === startTicks;
  const first = isSame ? figure.first : key;
  const text = `${isSame ? figure.text : ''}${atTicks - startTicks}:${key - first} `;
  return { startTicks, endTicks: startTicks + bar.durationTicks, first, text };
}

/**
 * The figures of a line's bars, in time order.
 * @example figuresOf([], []) // → []
 */
export function figuresOf(slots: readonly AnalysedSlot[], notes: readonly PartNote[]): BarFigure[] {
  const figures: BarFigure[] = [];
  for (const { slotIndex, startTicks, pitch } of notes) {
    const slot = slots[slotIndex];
    if (slot === undefined) continue;
    const before = figures.at(-1);
    const figure = grown(before, slot.played.playedBar, startTicks, midiOf(pitch));
    figures.splice(before?.startTicks === figure.startTicks ? -1 : figures.length, 1, figure);
  }
  return figures;
}

/** Whether a bar has the figure of both bars right before it. */
function isThird(figure: BarFigure, before: readonly BarFigure[]): boolean {
  const [second, first] = [before.at(-1), before.at(-2)];
  if (first === undefined || second === undefined) return false;
  const areRunning = first.endTicks === second.startTicks && second.endTicks === figure.startTicks;
  return areRunning && first.text === figure.text && second.text === figure.text;
}

/** Steps of a stretch without rests, what they stand in, and the bars that were heard before. */
export interface FreshBassOrder {
  readonly steps: readonly BassStep[];
  readonly playedOf: (step: BassStep) => PlayedSlot;
  readonly random: RandomSource;
  readonly bounds: Omit<BassBounds, 'worn'>;
  readonly line: readonly AboveNote[];
  /** Figures of the bars before, the last of which may still be open. */
  readonly heard: readonly BarFigure[];
}

/** Where bars have a choice: those whose notes all begin chords, or stand on a pedal point, have none. */
function freeBars({ steps, playedOf }: FreshBassOrder): Set<number> {
  const free = steps.filter((step) => step.startTicks !== playedOf(step).startTicks && step.isPedal !== true);
  return new Set(free.map((step) => playedOf(step).playedBar.startTicks));
}

/** Steps of the bars that have their figure for the third time, as indices. */
function wornSteps(order: FreshBassOrder, line: readonly BassStepChoice[]): number[] {
  const { steps, playedOf, heard } = order;
  const free = freeBars(order);
  const figures = [...heard];
  const worn: number[] = [];
  let own: number[] = [];
  for (const [index, step] of steps.entries()) {
    const { playedBar } = playedOf(step);
    const open = figures.at(-1)?.startTicks === playedBar.startTicks ? figures.pop() : undefined;
    own = open === undefined || index === 0 ? [index] : [...own, index];
    const figure = grown(open, playedBar, step.startTicks, (line[index] as BassStepChoice).midi);
    const next = steps[index + 1];
    const isWhole = next === undefined || playedOf(next).playedBar.startTicks !== playedBar.startTicks;
    if (isWhole && free.has(figure.startTicks) && isThird(figure, figures)) worn.push(...own);
    figures.push(figure);
  }
  return worn;
}

/** A way through the steps so far, with the figures of its last bars. */
interface Way {
  readonly choice: BassStepChoice;
  readonly figures: readonly BarFigure[];
}

/** What a bar with its figure for the third time costs: more than any line without one. */
const THIRD_TIME_COST = 1000;
/** Ways that are followed at a step, the cheapest: at level 1, where there are few, nearly all. */
const MOST_WAYS = 400;

/** The cheapest line whose bars have no figure three times: ways are distinguished by their last bars too. */
function neverThrice(
  order: FreshBassOrder,
  open: readonly (readonly OpenChoice[])[],
  worn: BassBounds['worn'],
): BassStepChoice[] {
  const { steps, playedOf, bounds, heard } = order;
  const free = freeBars(order);
  const thirdTime = (figures: readonly BarFigure[]): number => {
    const figure = figures.at(-1) as BarFigure;
    return free.has(figure.startTicks) && isThird(figure, figures.slice(0, -1)) ? THIRD_TIME_COST : 0;
  };
  let ways: Way[] = [];
  for (const [index, step] of steps.entries()) {
    const isLast = index === steps.length - 1;
    const { playedBar } = playedOf(step);
    const next = steps[index + 1];
    const isWhole = next === undefined || playedOf(next).playedBar.startTicks !== playedBar.startTicks;
    const followed = (figures: readonly BarFigure[], key: Midi): BarFigure[] => {
      const last = figures.at(-1);
      const figure = grown(last, playedBar, step.startTicks, key);
      const before = last?.startTicks === figure.startTicks ? figures.slice(0, -1) : figures;
      return [...before.slice(-2), figure];
    };
    const best = new Map<string, Way>();
    for (const [at, choice] of (open[index] as readonly OpenChoice[]).entries()) {
      if ((isLast && choice.leaving !== 'free') || (index === 0 && choice.midi === bounds.after)) continue;
      const own = choice.cost + (worn.get(`${index}:${choice.midi}`) ?? 0);
      const from: readonly (Way | null)[] = index === 0 ? [null] : ways;
      for (const way of from) {
        const motion = way === null ? 0 : motionCost(way.choice, choice.midi, step, choice.approach !== null);
        if (motion === null) continue;
        const figures = followed(way?.figures ?? heard, choice.midi);
        const third = isWhole ? thirdTime(figures) : 0;
        const cost = (way?.choice.cost ?? 0) + motion + own + third;
        const place = [at, way?.choice.midi, ...figures.map(({ text }) => text)].join('|');
        const cheapest = best.get(place);
        if (cheapest !== undefined && cost >= cheapest.choice.cost) continue;
        best.set(place, { choice: reachedBy(choice, cost, way?.choice ?? null), figures });
      }
    }
    ways = [...best.values()].sort((a, b) => a.choice.cost - b.choice.cost).slice(0, MOST_WAYS);
  }
  const line: BassStepChoice[] = [];
  for (let last = ways[0]?.choice ?? null; last !== null; last = last.before) line.push(last);
  return line.reverse();
}

/** How often a stretch is led anew to be rid of worn bars, and what a worn key then costs more. */
const MOST_TRIES = 24;
const WORN_COST = 14;

/**
 * The cheapest line whose bars never have one figure three times running, those heard before it counted. Free lines go another way
 * where their keys cost more; where that does not help (roots and fifths, that lie on as many keys as there are tries), bars
 * are distinguished in the search itself.
 */
export function freshBass(order: FreshBassOrder): BassStepChoice[] {
  const { steps, playedOf, random, bounds, line: above } = order;
  const whims = randomSource(random.integer(0x7fffffff), 'bass whims');
  const open = steps.map((step) => openChoices(step, whims, bounds.range));
  const worn = costsUnderLine(steps, playedOf, above, bounds.range);
  const plain = new Map(worn);
  const known: BassStepChoice[][] = [];
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const line = leadBass(steps, open, { ...bounds, worn }, known);
    const tired = line.length === steps.length ? wornSteps(order, line) : [];
    if (tired.length === 0) return line;
    known.length = Math.min(...tired);
    for (const index of tired) {
      const place = `${index}:${(line[index] as BassStepChoice).midi}`;
      worn.set(place, (worn.get(place) ?? 0) + WORN_COST);
    }
  }
  return neverThrice(order, open, plain);
}
