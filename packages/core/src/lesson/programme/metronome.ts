import { beatsOf, beatTicksOf, type Meter } from '../../chart/index.ts';
import { keyOfDrum } from '../../parts/index.ts';
import type { Metronome } from './aids.ts';

/** A click: in ticks from the segment's start. */
export interface Click {
  readonly ticks: number;
  readonly midi: number;
  readonly velocity: number;
}

/** The first of a bar a little stronger, as metronomes with a bell have it; on two and four all alike. Our own. */
const VELOCITY = { first: 96, other: 78 } as const;

/** Long enough for a click to ring. */
export const CLICK_SECONDS = 0.1;

/**
 * A metronome's clicks in bars that need not be of one metre: exactly on the beats, neither swung nor straying.
 * For example clicksOf('two and four', [{ startTicks: 0, durationTicks: 3840, meter: { count: 4, unit: 4 } }]).map(({ ticks }) => ticks) // → [960, 2880]
 */
export function clicksOf(
  metronome: Metronome,
  bars: readonly { readonly startTicks: number; readonly durationTicks: number; readonly meter: Meter }[],
): readonly Click[] {
  if (metronome === 'none') return [];
  return bars.flatMap(({ startTicks, durationTicks, meter }) => {
    const beatTicks = beatTicksOf(meter);
    // a bar may be cut short: no click beyond it
    const beats = Math.min(beatsOf(meter), Math.ceil(durationTicks / beatTicks));
    return Array.from({ length: beats }, (_, beat) => beat)
      .filter((beat) => metronome === 'every beat' || beat % 2 === 1)
      .map((beat) => ({
        ticks: startTicks + beat * beatTicks,
        midi: keyOfDrum('sticks'),
        velocity: metronome === 'every beat' && beat === 0 ? VELOCITY.first : VELOCITY.other,
      }));
  });
}
