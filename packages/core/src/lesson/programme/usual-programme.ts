import { barTicksOf, beatTicksOf, type Chart, type Form } from '../../chart/index.ts';
import { TRIO_PLAYERS } from '../../performance/index.ts';
import { DEFAULT_TEMPO_BPM } from '../../score/index.ts';
import type { Key } from '../../theory/index.ts';
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
    choruses: inTurn({
      keys: [key],
      tempi: [chart.tempoBpm ?? DEFAULT_TEMPO_BPM],
      choruses: USUAL_CHORUSES,
      players: TRIO_PLAYERS.filter((player) => player !== 'right hand'),
    }),
  };
}

/** Longest programme a file takes: the sound engine takes two hours, pickup and last bar included. */
export const LONGEST_PROGRAMME_MINUTES = 119;

/** Minutes a programme takes but for its last bar, known before any of it is played. */
export function programmeMinutes(chart: Chart, form: Form, { choruses, countInBars }: Programme): number {
  const beats = (ticks: number): number => ticks / beatTicksOf(chart.meter);
  const countInBeats = beats(barTicksOf(chart.meter)) * countInBars;
  return choruses.reduce((sum, { tempoBpm }, index) => {
    const isCounted = choruses[index - 1]?.tempoBpm !== tempoBpm;
    return sum + (beats(form.endTicks) + (isCounted ? countInBeats : 0)) / tempoBpm;
  }, 0);
}
