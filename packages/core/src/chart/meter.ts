/** Ticks a quarter note: all score time is in these integers. */
export const TICKS_PER_QUARTER = 960;

/** A time signature. */
export interface Meter {
  /** The upper number. */
  readonly count: number;
  /** The lower number: 2, 4, 8 or 16. */
  readonly unit: number;
}

/** Whether the beat is dotted: 6/8, 9/8, 12/8 and the same over 16. Common practice. */
export function isCompound(meter: Meter): boolean {
  return meter.unit >= 8 && meter.count > 3 && meter.count % 3 === 0;
}

/** Length of one beat: the denominator's note, dotted threefold in compound metres. */
export function beatTicksOf(meter: Meter): number {
  return ((TICKS_PER_QUARTER * 4) / meter.unit) * (isCompound(meter) ? 3 : 1);
}

/** Beats in a bar: 4 in 4/4, 2 in 6/8. */
export function beatsOf(meter: Meter): number {
  return isCompound(meter) ? meter.count / 3 : meter.count;
}

/** Length of a full bar. */
export function barTicksOf(meter: Meter): number {
  return beatTicksOf(meter) * beatsOf(meter);
}

/** A time signature in text: `4/4`. */
export function formatMeter(meter: Meter): string {
  return `${meter.count}/${meter.unit}`;
}

/** The highest upper number a metre is written with. */
const MOST_BEATS = 32;

/**
 * Reads a time signature.
 * @returns undefined where the text is none.
 * @example readMeter('6/8') // → { count: 6, unit: 8 }
 */
export function readMeter(text: string): Meter | undefined {
  const match = /^(\d{1,2})\s*\/\s*(2|4|8|16)$/u.exec(text.trim());
  if (match === null) return undefined;
  const count = Number(match[1]);
  return count >= 1 && count <= MOST_BEATS ? { count, unit: Number(match[2]) } : undefined;
}
