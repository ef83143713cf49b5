/**
 * Where a hand's time lies against the click, bar by bar: strokes fall about beats, swung off-beats, triplets and sixteenths, and
 * the player's own pulse wanders slowly against the click. The likeliest way of that offset through the take is found by
 * dynamic programming over offsets within one beat, for several swing ratios; a pulse that runs away is followed round as far as it goes.
 * After beat tracking by dynamic programming (Ellis 2007, from memory), with the click as the prior.
 */

import { modulo } from '../theory/index.ts';

/** What is known of the pulse. */
export interface PulseGrid {
  readonly pulseSeconds: number;
  /** Length of the stretches in which the offset stays: a bar. */
  readonly windowSeconds: number;
  readonly swings: boolean;
  readonly isCompound: boolean;
}

/** A hand's own time. */
export interface FollowedTime {
  /** How far behind the click the hand's pulse is, for each window from `firstWindow` on, in seconds. */
  readonly offsets: readonly number[];
  readonly firstWindow: number;
  /** The ratio of long to short that the strokes lie at best. */
  readonly ratio: number;
}

/** Steps in which offsets are tried. */
const STEP_SECONDS = 0.006;

/** Ratios tried: even to a dotted eighth. Recordings lie between (docs/sound.md). */
const RATIOS = [1, 1.2, 1.4, 1.65, 1.95, 2.3, 2.75, 3.3] as const;

/**
 * What is believed of the ratio before a stroke is heard: about a soloist's (docs/sound.md), a factor of 1.4 either way. A hand that
 * hardly plays off-beats tells no ratio, and a far one would take its uneven beats for off-beats.
 */
const USUAL_RATIO = { middle: 1.6, spread: 0.35 } as const;

/** Bars from which the ratio is told. */
const RATIO_WINDOWS = 32;

/** Widths as standard deviations, in seconds: a stroke about its place, the pulse from bar to bar, its first place about the click. */
const WIDTH = { stroke: 0.022, wander: 0.019, start: 0.065 } as const;

/** The most that a pulse wanders in a bar. */
const FURTHEST_WANDER_SECONDS = 0.048;

/** Every bar leans a little to the click, so that a line of off-beats is not taken for beats: up to this much, in nats. */
const LEAN = { most: 0.9, width: 0.07 } as const;

/** Where the score tells where the beat is, the pulse is there: up to this much, in nats. */
const KNOWN = { most: 6, width: 0.025 } as const;

/** A stroke that belongs to no place of the grid is not impossible. */
const ANYWHERE = 0.04;

/** Places within a pulse with how often strokes fall there, in parts; roughly as choruses and bass lines are written. */
function placesOf(
  { swings, isCompound }: PulseGrid,
  ratio: number,
): readonly (readonly [place: number, weight: number])[] {
  if (isCompound) {
    return [
      [0, 1],
      [1 / 3, 0.6],
      [2 / 3, 0.6],
      [1 / 6, 0.1],
      [1 / 2, 0.1],
      [5 / 6, 0.1],
    ];
  }
  const off = swings ? ratio / (ratio + 1) : 0.5;
  const finer = swings ? 0.04 : 0.12;
  return [
    [0, 1],
    // even eighths are distinguished by where the click is alone
    [off, swings ? 0.8 : 0.97],
    [1 / 3, 0.08],
    [2 / 3, 0.08],
    [off / 2, finer],
    [(1 + off) / 2, finer],
  ];
}

const binsOf = ({ pulseSeconds }: PulseGrid): number => Math.max(24, Math.round(pulseSeconds / STEP_SECONDS));

/** The logarithm of how likely a stroke is at each phase of the pulse. */
function kernelOf(grid: PulseGrid, ratio: number, bins: number): Float64Array {
  const places = placesOf(grid, ratio);
  const total = places.reduce((sum, [, weight]) => sum + weight, 0);
  const width = WIDTH.stroke + 0.015 * grid.pulseSeconds;
  const kernel = new Float64Array(bins);
  for (let bin = 0; bin < bins; bin++) {
    let density = ANYWHERE / grid.pulseSeconds;
    for (const [place, weight] of places) {
      let apart = Math.abs(bin / bins - place);
      apart = Math.min(apart, 1 - apart) * grid.pulseSeconds;
      density += ((weight / total) * Math.exp(-0.5 * (apart / width) ** 2)) / (width * 2.5066);
    }
    kernel[bin] = Math.log(density);
  }
  return kernel;
}

interface Path {
  readonly offsets: number[];
  readonly score: number;
}

/** Strokes of a bar as phases, and the offset that the score tells, if any. */
interface Window {
  readonly phases: number[];
  readonly known: number | null;
  /** What each offset costs by what is known; null where nothing is. */
  readonly lean: Float64Array | null;
}

/** What each offset costs where the score tells one. */
function leanTo(known: number, bins: number, binSeconds: number): Float64Array {
  const costs = new Float64Array(bins);
  // once round, one division for all: each offset is a step further from the known one
  const from = modulo(bins / 2 - known / binSeconds, bins);
  for (let bin = 0; bin < bins; bin++) {
    const round = from + bin;
    const apart = (round < bins ? round : round - bins) - bins / 2;
    costs[bin] = Math.min(KNOWN.most, 0.5 * ((apart * binSeconds) / KNOWN.width) ** 2);
  }
  return costs;
}

/** What a pulse may do from bar to bar and where it likes to be, the same for every ratio that is tried. */
interface Freedom {
  readonly bins: number;
  readonly binSeconds: number;
  /** Steps that it may wander in a bar, either way, and what each costs. */
  readonly reach: number;
  readonly wander: Float64Array;
  /** How the bars lean to the click where the score tells nothing. */
  readonly lean: Float64Array;
}

function freedomOf({ pulseSeconds }: PulseGrid, bins: number): Freedom {
  const binSeconds = pulseSeconds / bins;
  const reach = Math.max(1, Math.floor(Math.min(FURTHEST_WANDER_SECONDS, pulseSeconds * 0.14) / binSeconds));
  return {
    bins,
    binSeconds,
    reach,
    wander: Float64Array.from(
      { length: 2 * reach + 1 },
      (_, at) => 0.5 * (((at - reach) * binSeconds) / WIDTH.wander) ** 2,
    ),
    lean: Float64Array.from({ length: bins }, (_, bin) => {
      const offset = (bin < bins / 2 ? bin : bin - bins) * binSeconds;
      return Math.min(LEAN.most, 0.5 * (offset / LEAN.width) ** 2);
    }),
  };
}

/**
 * Where each offset is best reached from, within one pulse round.
 * @param round the scores with their last and first `reach` repeated before and after them
 * @param best, ways: written to, by offset
 */
function wanderTo(round: Float64Array, { bins, reach, wander }: Freedom, best: Float64Array, ways: Int16Array): void {
  for (let bin = 0; bin < bins; bin++) {
    // from `reach` further on down to `reach` before
    const last = bin + 2 * reach;
    let most = Number.NEGATIVE_INFINITY;
    let way = 0;
    for (let at = 0; at <= 2 * reach; at++) {
      const score = (round[last - at] as number) - (wander[at] as number);
      if (score > most) {
        most = score;
        way = at;
      }
    }
    best[bin] = most;
    ways[bin] = way - reach;
  }
}

/** The likeliest way with one ratio. */
function bestPath(windows: readonly Window[], kernel: Float64Array, freedom: Freedom): Path {
  const { bins, binSeconds, reach } = freedom;
  // what a stroke at a phase says of each offset is in one piece: backwards, twice round
  const backwards = Float64Array.from({ length: 2 * bins }, (_, at) => kernel[(2 * bins - at) % bins] as number);
  const scores = new Float64Array(bins);
  const opens = windows.find(({ known }) => known !== null)?.known ?? null;
  for (let bin = 0; bin < bins && opens === null; bin++) {
    const offset = (bin < bins / 2 ? bin : bin - bins) * binSeconds;
    scores[bin] = -0.5 * (offset / WIDTH.start) ** 2;
  }
  const round = new Float64Array(bins + 2 * reach);
  const moves = new Int16Array(windows.length * bins);
  for (let index = 0; index < windows.length; index++) {
    const { phases, lean: knownLean } = windows[index] as Window;
    // a bar without a stroke tells nothing: the pulse stays
    if (phases.length === 0) continue;
    if (index > 0) {
      round.set(scores, reach);
      round.set(scores.subarray(bins - reach), 0);
      round.set(scores.subarray(0, reach), bins + reach);
      wanderTo(round, freedom, scores, moves.subarray(index * bins, (index + 1) * bins));
    }
    for (const phase of phases) {
      const from = bins - phase;
      for (let bin = 0; bin < bins; bin++) scores[bin] = (scores[bin] as number) + (backwards[from + bin] as number);
    }
    const leaning = knownLean ?? freedom.lean;
    for (let bin = 0; bin < bins; bin++) scores[bin] = (scores[bin] as number) - (leaning[bin] as number);
  }
  let bin = scores.indexOf(Math.max(...scores));
  const score = scores[bin] as number;
  const steps: number[] = [];
  for (let index = windows.length - 1; index >= 0; index--) {
    const way = moves[index * bins + bin] as number;
    steps.push(way);
    bin = (bin - way + bins) % bins;
  }
  // round from the first place: offsets go on beyond one pulse
  let offset = bin < bins / 2 ? bin : bin - bins;
  const offsets = steps.reverse().map((way) => (offset += way) * binSeconds);
  return { offsets, score };
}

/**
 * Follows a hand's pulse.
 * @param strokes seconds from bar 1, in order
 * @param knownAt how far behind the click the score tells that the hand is at a moment, in seconds; null where it tells nothing
 */
export function followTime(
  strokes: readonly number[],
  grid: PulseGrid,
  knownAt: (seconds: number) => number | null = () => null,
): FollowedTime {
  const [first] = strokes;
  const last = strokes.at(-1);
  if (first === undefined || last === undefined) return { offsets: [0], firstWindow: 0, ratio: 1 };
  const bins = binsOf(grid);
  const windowOf = (seconds: number): number => Math.floor(seconds / grid.windowSeconds);
  const firstWindow = windowOf(first);
  const windows = Array.from({ length: windowOf(last) - firstWindow + 1 }, (_, index): Window => {
    const known = knownAt((firstWindow + index + 0.5) * grid.windowSeconds);
    return { phases: [], known, lean: known === null ? null : leanTo(known, bins, grid.pulseSeconds / bins) };
  });
  for (const stroke of strokes) {
    const phase = stroke / grid.pulseSeconds - Math.floor(stroke / grid.pulseSeconds);
    windows[windowOf(stroke) - firstWindow]?.phases.push(Math.round(phase * bins) % bins);
  }
  const freedom = freedomOf(grid, bins);
  const ratios: readonly number[] = grid.swings ? RATIOS : [1];
  // how somebody swings is known after some bars
  const opening = windows.slice(0, RATIO_WINDOWS);
  let best: { readonly path: Path; readonly ratio: number; readonly score: number } | null = null;
  for (const ratio of ratios) {
    const path = bestPath(opening, kernelOf(grid, ratio, bins), freedom);
    const score = path.score - 0.5 * (Math.log(ratio / USUAL_RATIO.middle) / USUAL_RATIO.spread) ** 2;
    if (best === null || score > best.score) best = { path, ratio, score };
  }
  const ratio = best?.ratio ?? 1;
  const path = opening.length === windows.length ? best?.path : bestPath(windows, kernelOf(grid, ratio, bins), freedom);
  return { offsets: path?.offsets ?? [0], firstWindow, ratio };
}

/** How likely strokes are with the pulse so far behind the click, as a logarithm: for comparing one reading of them with another. */
export function fitOf(
  strokes: readonly number[],
  offsetOf: (seconds: number) => number,
  grid: PulseGrid,
  ratio: number,
): number {
  const bins = binsOf(grid);
  const kernel = kernelOf(grid, ratio, bins);
  let sum = 0;
  for (const stroke of strokes) {
    const phase = (stroke - offsetOf(stroke)) / grid.pulseSeconds;
    sum += kernel[Math.round((phase - Math.floor(phase)) * bins) % bins] as number;
  }
  return sum;
}

/** The offset at a moment: on a line between the middles of the bars. */
export function offsetAt({ offsets, firstWindow }: FollowedTime, seconds: number, windowSeconds: number): number {
  const place = seconds / windowSeconds - 0.5 - firstWindow;
  const low = Math.max(0, Math.min(offsets.length - 1, Math.floor(place)));
  const high = Math.min(offsets.length - 1, low + 1);
  const share = Math.max(0, Math.min(1, place - low));
  return (offsets[low] ?? 0) + share * ((offsets[high] ?? 0) - (offsets[low] ?? 0));
}
