import { beatsOf, beatTicksOf, isCompound, type Meter } from '../../chart/index.ts';

/** Beats of a bar felt together: 2 or 3 of them. */
export interface BeatGroup {
  /** From the bar's start. */
  readonly startTicks: number;
  readonly beats: number;
}

/**
 * How the beats of a bar are felt: in pairs, an odd number with its three first (5 = 3 + 2, 7 = 3 + 2 + 2). Common practice.
 */
export function beatGroups(meter: Meter): BeatGroup[] {
  const beats = beatsOf(meter);
  const beatTicks = beatTicksOf(meter);
  const groups: BeatGroup[] = [];
  for (let at = 0; at < beats;) {
    const left = beats - at;
    const size = at === 0 && beats % 2 === 1 ? Math.min(3, left) : Math.min(2, left);
    groups.push({ startTicks: at * beatTicks, beats: size });
    at += size;
  }
  return groups;
}

/** Where in a beat the short note before the next one lies: its half where eighths pair, its last third where beats are dotted; null where beats are short. */
export function skipTicks(meter: Meter): number | null {
  const beatTicks = beatTicksOf(meter);
  if (isCompound(meter)) return (beatTicks / 3) * 2;
  return meter.unit <= 4 ? beatTicks / 2 : null;
}
