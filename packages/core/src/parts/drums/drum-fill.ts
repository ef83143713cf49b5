import { beatTicksOf, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { skipTicks, type BeatGroup } from './drum-groups.ts';
import type { Drum, DrumKit, DrumStress, DrumStroke } from './drum-kit.ts';

/** A fill: what replaces the time from a tick of the section's last bar on. */
export interface DrumFill {
  readonly fromTicks: number;
  readonly strokes: readonly DrumStroke[];
}

/** A stroke of a fill: on a beat of the group or between it and the next, on the snare or going down the drums. */
interface FillStroke {
  readonly beat: number;
  readonly isOff: boolean;
  readonly drum: Drum;
  readonly stress: DrumStress;
}

const stroke = (beat: number, isOff: boolean, drum: Drum, stress: DrumStress): FillStroke => ({
  beat,
  isOff,
  drum,
  stress,
});

/** Fills over a bar's last two beats. Common practice; the choice is our own. */
const FILLS: readonly (readonly FillStroke[])[] = [
  [stroke(0, false, 'snare', 'plain'), stroke(0, true, 'snare', 'soft'), stroke(1, true, 'snare', 'accented')],
  [
    stroke(0, false, 'snare', 'soft'),
    stroke(0, true, 'high tom', 'plain'),
    stroke(1, false, 'middle tom', 'plain'),
    stroke(1, true, 'low tom', 'accented'),
  ],
  [stroke(0, true, 'snare', 'plain'), stroke(1, false, 'bass drum', 'soft'), stroke(1, true, 'snare', 'accented')],
  [stroke(0, true, 'bass drum', 'plain'), stroke(1, false, 'snare', 'plain'), stroke(1, true, 'low tom', 'plain')],
];

/** The brushes' fill: a few harder taps. */
const BRUSH_FILL: readonly FillStroke[] = [
  stroke(0, false, 'swirl', 'soft'),
  stroke(0, true, 'snare', 'soft'),
  stroke(1, true, 'snare', 'plain'),
];

/** How many of a bar's last beats a fill takes, where that leaves the bar its first beat. */
const FILL_BEATS = 2;

/**
 * The fill over a section's last bar, null where the bar has a single beat or beats too short to fill; in a bar of two
 * beats its second half.
 */
export function fillOf(
  { bar, startTicks }: PlayedBar,
  groups: readonly BeatGroup[],
  { kit, random }: { readonly kit: DrumKit; readonly random: RandomSource },
): DrumFill | null {
  const beatTicks = beatTicksOf(bar.meter);
  const skip = skipTicks(bar.meter);
  const beats = groups.reduce((sum, group) => sum + group.beats, 0);
  if (skip === null || beats < 2) return null;
  const first = Math.max(0, FILL_BEATS - (beats - 1));
  const fromTicks = startTicks + (beats - FILL_BEATS + first) * beatTicks;
  const chosen = kit === 'brushes' ? BRUSH_FILL : (FILLS[random.integer(FILLS.length)] as readonly FillStroke[]);
  return {
    fromTicks,
    strokes: chosen
      .filter(({ beat }) => beat >= first)
      .map(({ beat, isOff, drum, stress }) => ({
        startTicks: fromTicks + (beat - first) * beatTicks + (isOff ? skip : 0),
        drum,
        stress,
        role: 'fill',
      })),
  };
}
