import { barTicksOf, beatsOf, beatTicksOf, isCompound, type Meter } from '@fivespan/core';

/** Where the groups of beats begin that a reader sees at a glance, by beats in the bar. Common practice: 3+2, 4+3. */
const GROUP_STARTS: Readonly<Record<number, readonly number[]>> = {
  4: [0, 2],
  5: [0, 3],
  6: [0, 3],
  7: [0, 4],
  8: [0, 4],
};

/** Sevens over eighths are read 2+2+3. Common practice. */
const GROUP_STARTS_OF_SEVEN_EIGHTHS: readonly number[] = [0, 2, 4];

/** The finest subdivision that can be written without a triplet: a 64th note. */
const FINEST_TICKS = 60;

/** How strong each place of a bar is: 0 the bar line, 1 a group of beats, 2 a beat, 3 and on its subdivisions. */
export interface MetricalGrid {
  readonly meter: Meter;
  readonly barTicks: number;
  readonly beatTicks: number;
  readonly isCompound: boolean;
  /** Group boundaries in ticks, the bar's edges included. */
  readonly groupTicks: readonly number[];
  /** Level of a place in the bar, smaller is stronger; Infinity off the finest subdivision. */
  levelAt(ticksInBar: number): number;
}

/** Level of a beat on the grid. */
export const BEAT_LEVEL = 2;

/**
 * The grid of a metre.
 * @example metricalGrid({ count: 4, unit: 4 }).levelAt(1920) // → 1, the middle of the bar
 */
export function metricalGrid(meter: Meter): MetricalGrid {
  const barTicks = barTicksOf(meter);
  const beatTicks = beatTicksOf(meter);
  const compound = isCompound(meter);
  const starts =
    meter.count === 7 && meter.unit >= 8 ? GROUP_STARTS_OF_SEVEN_EIGHTHS : (GROUP_STARTS[beatsOf(meter)] ?? [0]);
  const groupTicks = [...starts.map((beat) => beat * beatTicks), barTicks];
  const periods = [beatTicks];
  let period = compound ? beatTicks / 3 : beatTicks / 2;
  for (; period >= FINEST_TICKS && Number.isInteger(period); period /= 2) periods.push(period);
  const levelAt = (ticksInBar: number): number => {
    if (ticksInBar <= 0 || ticksInBar >= barTicks) return 0;
    if (groupTicks.includes(ticksInBar)) return 1;
    const index = periods.findIndex((each) => ticksInBar % each === 0);
    return index < 0 ? Infinity : BEAT_LEVEL + index;
  };
  return { meter, barTicks, beatTicks, isCompound: compound, groupTicks, levelAt };
}
