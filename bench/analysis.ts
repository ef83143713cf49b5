/**
 * How much processor time analysing a chart takes. Run from the repository's root: npx tsx bench/analysis.ts
 *
 * 1. All open grids (../shared/data/wjd, else FIVESPAN_OPEN_DATA) in one process, milliseconds a chart, against the peer
 *    of the same run: reading the same charts from text.
 * 2. Charts of our own with 32, 128, 512 and 1,024 bars, as ratios to 32 bars: linear is 1, 4, 16, 32.
 */
import { analyse, NO_ANALYSIS_PINS, readChart, type Chart } from '@fivespan/core';
import { eventsOf } from '../packages/core/src/analysis/harmony/event.ts';
import { costTablesOf, groundOf } from '../packages/core/src/analysis/harmony/ground.ts';
import { rankHomes } from '../packages/core/src/analysis/harmony/home-key.ts';
import { readEvents } from '../packages/core/src/analysis/harmony/search.ts';
import { unfold } from '@fivespan/core';
import { ourText, weimarGrids } from '../checks/weimar-grid.ts';

/** Processor time, so that other work on the machine hardly counts. */
const milliseconds = (work: () => unknown): number => {
  const from = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
};

/** The least of several runs. */
const least = (work: () => unknown, runs: number): number =>
  Math.min(...Array.from({ length: runs }, () => milliseconds(work)));

function chartFrom(text: string): Chart | undefined {
  const chart = readChart(text);
  return chart.ok ? chart.value : undefined;
}

/** Eight bars of our own, moved through the keys, so that no two stretches are the same. */
const EIGHT = ['Cm7 F7', 'Bbmaj7 G7', 'Em7b5', 'A7(b9)', 'Dm7 G7', 'C6 Am7', 'Fmaj7 Fm6', 'Em7 A7'];
const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

function moved(bar: string, up: number): string {
  return bar.replaceAll(/(^| )([A-G]b?)/gu, (_, space: string, root: string) => {
    return space + (ROOTS[(ROOTS.indexOf(root) + up) % 12] as string);
  });
}

function longChart(bars: number): Chart {
  const lines = Array.from(
    { length: bars / 8 },
    (_, line) => `| ${EIGHT.map((bar) => moved(bar, (line * 5) % 12)).join(' | ')} |`,
  );
  const chart = chartFrom(`A:\n${lines.join('\n')}\n`);
  if (chart === undefined) throw new TypeError('the bench chart must read');
  return chart;
}

if (weimarGrids === null) console.log('open data not here');
else {
  const texts = weimarGrids.map(ourText);
  const charts = texts.map(chartFrom).filter((chart) => chart !== undefined);
  const first = milliseconds(() => charts.forEach((chart) => analyse(chart, NO_ANALYSIS_PINS)));
  const warm = least(() => charts.forEach((chart) => analyse(chart, NO_ANALYSIS_PINS)), 3);
  const reading = least(() => texts.forEach(chartFrom), 3);
  const each = (total: number): string => (total / charts.length).toFixed(2);
  console.log(`${charts.length} open grids: ${each(first)} ms a chart the first time, ${each(warm)} ms warm`);
  console.log(
    `  reading them from text ${each(reading)} ms: analysing costs ${(warm / reading).toFixed(1)} times that`,
  );
  const grounds = charts.map((chart) => groundOf(eventsOf(unfold(chart))));
  console.log(
    `  functions in all keys ${each(least(() => charts.forEach((chart) => groundOf(eventsOf(unfold(chart)))), 3))} ms`,
  );
  console.log(
    `  the 36 homes ${each(least(() => grounds.forEach((ground) => rankHomes(ground, costTablesOf(ground))), 3))} ms`,
  );
  console.log(
    `  one reading with its alternatives ${each(least(() => grounds.forEach((ground) => readEvents(ground, costTablesOf(ground), 0)), 3))} ms`,
  );
}

let base = 0;
for (const bars of [32, 128, 512, 1024]) {
  const chart = longChart(bars);
  analyse(chart, NO_ANALYSIS_PINS);
  const time = least(() => analyse(chart, NO_ANALYSIS_PINS), 5);
  if (bars === 32) base = time;
  console.log(
    `${String(bars).padStart(5)} bars: ${time.toFixed(1).padStart(7)} ms, ${(time / base).toFixed(1)} times 32 bars`,
  );
}
