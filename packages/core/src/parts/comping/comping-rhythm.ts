import { beatTicksOf, isCompound, type Feel, type Meter } from '../../chart/index.ts';

/** One stroke of a figure. Places count the cells of the bar: half beats, thirds of a dotted beat. */
export interface CompStroke {
  readonly cell: number;
  /** 'short' is let go within a cell, 'long' is held to the next stroke or the chord's end. */
  readonly length: 'short' | 'long';
}

/** One bar of comping. */
export interface CompFigure {
  readonly strokes: readonly CompStroke[];
  /** How often it comes where nothing else decides. */
  readonly weight: number;
}

/**
 * Reads figures: a digit or letter a cell (counted from 0 in base 36), a dash after it where it is held.
 * `0- 3` is a long stroke on one and a short one on the and of two.
 */
function figures(rows: readonly (readonly [string, number])[]): readonly CompFigure[] {
  return rows.map(([text, weight]) => ({
    weight,
    strokes: text
      .split(' ')
      .filter((word) => word !== '')
      .map((word) => ({ cell: Number.parseInt(word.charAt(0), 36), length: word.endsWith('-') ? 'long' : 'short' })),
  }));
}

/**
 * Comping rhythms of one bar by metre, weights for taste. Common practice: one and the and of two, its mirror, the pushes on the
 * ands of two and four, two and four, whole bars held. The choice and the weights are our own.
 */
const IN_FOUR = figures([
  ['', 2],
  ['0-', 4],
  ['0 3-', 6],
  ['0- 3', 4],
  ['3-', 5],
  ['3 7-', 3],
  ['7-', 3],
  ['1-', 2],
  ['1 4-', 3],
  ['1 5-', 2],
  ['2 6', 2],
  ['0 5-', 2],
  ['0 3 6', 2],
  ['1 3 6-', 1],
  ['0 3 7-', 2],
  ['0 2- 5 7-', 1],
  ['1 3 5 7-', 1],
]);

/** Even eighths: the chord on the beat and its off-beats in turn, as under a straight-eighth groove. Common practice. */
const EVEN_IN_FOUR = figures([
  ['', 1],
  ['0- 3-', 6],
  ['0- 3 6', 5],
  ['0 3 5-', 3],
  ['0- 3 7-', 4],
  ['2- 5-', 2],
  ['0 3 6 7-', 2],
  ['1 3 6-', 2],
]);

/** A ballad: chords held from where they come, moved inside the bar now and then. Common practice. */
const SLOW_IN_FOUR = figures([
  ['0-', 8],
  ['0- 4-', 6],
  ['0- 6-', 3],
  ['0- 3-', 2],
  ['2-', 2],
  ['0- 7-', 1],
]);

/** Fast: one stroke or two a bar, off the beat and short. Common practice. */
const FAST_IN_FOUR = figures([
  ['', 4],
  ['3', 5],
  ['7-', 4],
  ['0-', 3],
  ['3 7-', 3],
  ['0 3', 3],
  ['5', 2],
  ['1', 2],
]);

const IN_THREE = figures([
  ['', 2],
  ['0-', 5],
  ['0 3-', 5],
  ['3-', 4],
  ['2 4', 3],
  ['1 3-', 2],
  ['5-', 2],
  ['0 3 5-', 2],
  ['1 4-', 2],
]);

/** Three and two. Common practice. */
const IN_FIVE = figures([
  ['', 2],
  ['0-', 3],
  ['0 3-', 6],
  ['0- 6-', 4],
  ['0 3 6-', 4],
  ['3- 6', 2],
  ['3 8-', 2],
  ['6-', 2],
  ['1 6-', 2],
]);

const IN_TWO = figures([
  ['', 2],
  ['0-', 4],
  ['0 3-', 4],
  ['1-', 2],
  ['3-', 2],
]);

/** Compound beats in thirds: on the beat, and on the last third before the next. */
const IN_COMPOUND_FOUR = figures([
  ['', 2],
  ['0-', 5],
  ['0 5-', 4],
  ['5-', 3],
  ['3 9', 3],
  ['2- 6-', 2],
  ['0 5 b-', 2],
]);
const IN_COMPOUND_TWO = figures([
  ['', 2],
  ['0-', 5],
  ['0 2-', 3],
  ['2-', 2],
  ['0 5-', 2],
  ['3-', 2],
]);

/** Any other metre: long chords and rests; changes are played where they come. */
const PLAIN = figures([
  ['', 2],
  ['0-', 6],
]);

/** The steps of a metre's figures: half a quarter or half-note beat, a third of a dotted one, a short beat itself. */
export function compCellTicks(meter: Meter): number {
  if (isCompound(meter)) return beatTicksOf(meter) / 3;
  return meter.unit <= 4 ? beatTicksOf(meter) / 2 : beatTicksOf(meter);
}

/** Slower than this a bar of four is comped as a ballad, faster than that it is comped fast: beats a minute. Our own. */
const SLOW_BELOW_BPM = 84;
const FAST_FROM_BPM = 210;

/** What a figure must go with. */
export interface CompGround {
  readonly feel: Feel;
  /** Beats a minute of the metre. */
  readonly tempoBpm: number;
}

function inFour({ feel, tempoBpm }: CompGround): readonly CompFigure[] {
  if (tempoBpm < SLOW_BELOW_BPM) return SLOW_IN_FOUR;
  if (feel === 'even') return EVEN_IN_FOUR;
  return tempoBpm >= FAST_FROM_BPM ? FAST_IN_FOUR : IN_FOUR;
}

/** The figures of a metre, in four by feel and tempo too. */
export function compFigures(meter: Meter, ground: CompGround): readonly CompFigure[] {
  const { count, unit } = meter;
  if (isCompound(meter)) return count === 12 ? IN_COMPOUND_FOUR : count === 6 ? IN_COMPOUND_TWO : PLAIN;
  if (unit > 4) return PLAIN;
  switch (count) {
    case 4:
      return inFour(ground);
    case 3:
      return IN_THREE;
    case 5:
      return IN_FIVE;
    case 2:
      return IN_TWO;
    default:
      return PLAIN;
  }
}
