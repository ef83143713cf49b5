import { beatsOf, beatTicksOf, isCompound, TICKS_PER_QUARTER, type Meter, type PlayedBar } from '../../chart/index.ts';

/** An eighth note, the usual cell of a line. */
const EIGHTH_TICKS = TICKS_PER_QUARTER / 2;

/** The steps in which a line moves in a metre: eighths; a third of the dotted beat in compound metres; a short beat itself. */
export function cellTicksOf(meter: Meter): number {
  return isCompound(meter) ? beatTicksOf(meter) / 3 : Math.min(EIGHTH_TICKS, beatTicksOf(meter));
}

/** Cells that a player feels as one: a quarter in two eighths, a dotted beat in three, a short beat alone. */
export interface Pulse {
  readonly startTicks: number;
  readonly cellTicks: number;
  readonly cells: 1 | 2 | 3;
}

/** The pulses of a bar; a half-note beat has two. */
export function pulsesOf({ bar, startTicks }: PlayedBar): Pulse[] {
  const cellTicks = cellTicksOf(bar.meter);
  const cells = isCompound(bar.meter) ? 3 : beatTicksOf(bar.meter) > cellTicks ? 2 : 1;
  const pulseTicks = cells * cellTicks;
  return Array.from({ length: Math.floor(bar.durationTicks / pulseTicks) }, (_, index) => ({
    startTicks: startTicks + index * pulseTicks,
    cellTicks,
    cells,
  }));
}

/** Whether a tick is on a beat of its bar. */
export function isOnBeat(ticks: number, { bar, startTicks }: PlayedBar): boolean {
  return (ticks - startTicks) % beatTicksOf(bar.meter) === 0;
}

/** Whether a tick is the first beat of its bar, or the middle one where beats come in pairs. Common practice. */
export function isStrongBeat(ticks: number, { bar, startTicks }: PlayedBar): boolean {
  const beats = beatsOf(bar.meter);
  const middle = beats % 2 === 0 && beats > 2 ? (beats / 2) * beatTicksOf(bar.meter) : 0;
  return ticks === startTicks || (middle > 0 && ticks === startTicks + middle);
}
