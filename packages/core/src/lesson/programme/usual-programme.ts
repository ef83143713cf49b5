import { barTicksOf, beatTicksOf, type Chart, type Form } from '../../chart/index.ts';
import { ACCOMPANISTS } from '../../performance/index.ts';
import { DEFAULT_TEMPO_BPM } from '../../score/index.ts';
import type { Key } from '../../theory/index.ts';
import { NO_AIDS } from './aids.ts';
import { inTurn, type Programme } from './programme.ts';

/** How often the tune is played where nobody said. */
export const USUAL_CHORUSES = 3;

/** What is played of a tune where nothing was chosen: three choruses as written, without the right hand, which is the student's. */
export function usualProgramme(chart: Chart, key: Key): Programme {
  return {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 2,
    aids: NO_AIDS,
    choruses: inTurn({
      keys: [key],
      tempi: [chart.tempoBpm ?? DEFAULT_TEMPO_BPM],
      choruses: USUAL_CHORUSES,
      players: ACCOMPANISTS,
    }),
  };
}

/** Longest programme a file takes: the sound engine takes two hours. */
export const LONGEST_PROGRAMME_MINUTES = 119;

/** Whole bars before the first chorus: the count-in, and room for the pickup where that is longer. */
export function leadInBars({ meter }: Chart, form: Form, countInBars: number): number {
  const pickupTicks = Math.max(0, -(form.bars[0]?.startTicks ?? 0));
  return Math.max(countInBars, Math.ceil(pickupTicks / barTicksOf(meter)));
}

/**
 * Bars between one chorus and the next: counted in where the tempo changes, a rest where one is wished.
 * @returns how many, and how many of them, the last ones, are counted in
 */
export function barsBetween(
  { countInBars, aids }: Pick<Programme, 'countInBars' | 'aids'>,
  isOtherTempo: boolean,
): { readonly bars: number; readonly counted: number } {
  const counted = isOtherTempo ? countInBars : 0;
  return { bars: Math.max(counted, aids.restBars), counted };
}

/** Minutes a programme takes, its count-ins, rests and last bar among them: known before any of it is played. */
export function programmeMinutes(chart: Chart, form: Form, programme: Programme): number {
  const { choruses, countInBars } = programme;
  const beats = (ticks: number): number => ticks / beatTicksOf(chart.meter);
  const barBeats = beats(barTicksOf(chart.meter));
  return choruses.reduce((sum, { tempoBpm }, index) => {
    const before = choruses[index - 1]?.tempoBpm;
    const barsBefore =
      before === undefined ? leadInBars(chart, form, countInBars) : barsBetween(programme, before !== tempoBpm).bars;
    const endingBars = index === choruses.length - 1 ? 1 : 0;
    return sum + (beats(form.endTicks) + (barsBefore + endingBars) * barBeats) / tempoBpm;
  }, 0);
}
