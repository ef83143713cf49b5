import { beatsOf, beatTicksOf, type Meter } from '../../chart/index.ts';
import type { DrumStroke } from '../../parts/index.ts';

/**
 * Sticks that count a band in: half bars, then in the last bar every beat ('one, two, one two three four'). Common practice.
 * Ticks count from the count-in's own start.
 */
export function countIn(meter: Meter, bars: number): DrumStroke[] {
  const beats = beatsOf(meter);
  const beatTicks = beatTicksOf(meter);
  return Array.from({ length: bars * beats }, (_, beat) => beat)
    .filter(
      (beat) => beat >= (bars - 1) * beats || beat % beats === 0 || (beats % 2 === 0 && beat % beats === beats / 2),
    )
    .map((beat) => ({
      startTicks: beat * beatTicks,
      drum: 'sticks',
      stress: beat % beats === 0 ? 'accented' : 'plain',
      role: 'count-in',
    }));
}
