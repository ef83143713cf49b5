/**
 * How fast the shape search and the route are, and how they grow.
 * Run: npx tsx bench/plan.ts
 * Figures of time are ratios within one run: against reading and analysing the same chart, and against half as long a chart.
 * The counters are exact and the same on every machine.
 */
import { performance } from 'node:perf_hooks';
import {
  analyse,
  findRoute,
  NO_ANALYSIS_PINS,
  NO_PLAN_PINS,
  planRoute,
  readChart,
  searchShapes,
  shapeDemands,
  type Analysis,
  type MoveEvery,
} from '@fivespan/core';

/** 32 bars of our own that go through many chord-scales: major and minor cadences, substitutes, a diminished passing chord. */
const THIRTY_TWO_BARS = `
Cmaj7 A7alt | Dm7 G7 | Em7 A7 | Dm7 Db7 | Cmaj7 C7 | Fmaj7 Bb7 | Em7b5 A7alt | Dm7 G7 |
Cmaj7 A7alt | Dm7 G7 | Em7 A7 | Dm7 Db7 | Gm7 C7 | Fmaj7 Fm6 | Em7 Ebdim7 | Dm7 G7alt |
F#m7b5 B7alt | Em6 | Dm7b5 G7alt | Cm6 | Fm7 Bb7 | Ebmaj7 | Abm7 Db7 | Gbmaj7 G7sus |
Cmaj7 A7alt | Dm7 G7 | Em7 A7 | Dm7 Db7 | Fmaj7 F#dim7 | Cmaj7 A7 | Dm7 G7 | C6
`.trim();

function analysed(bars: number): Analysis {
  const text = Array.from({ length: bars / 32 }, () => THIRTY_TWO_BARS).join(' |\n');
  const chart = readChart(`key: C major\n| ${text} |\n`);
  if (!chart.ok) throw new TypeError(`the chart must be one: ${JSON.stringify(chart.issues)}`);
  return analyse(chart.value, NO_ANALYSIS_PINS);
}

/** The shortest of some runs, in milliseconds, after one that warms up: what else the machine does only makes runs longer. */
function timeOf(work: () => unknown): number {
  work();
  const times = Array.from({ length: 15 }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return Math.min(...times);
}

const ratio = (a: number, b: number): string => (a / b).toFixed(2);

function reportShapes(): void {
  const analysis = analysed(32);
  const demands = shapeDemands(analysis);
  const { answers, searched } = searchShapes(demands, { hand: 'medium', keys: 'all', limit: 5 });
  console.log(
    `Shape search over 32 bars, ${demands.length} chords, ${searched.demands} that differ, ${searched.classes} classes`,
  );
  for (const { size, nodes, pruned, covers } of searched.sizes) {
    console.log(`  ${size} classes: ${nodes} choices looked at, ${pruned} branches cut, ${covers} answers`);
  }
  console.log(`  fewest positions: ${searched.positionNodes} choices looked at`);
  for (const { shapes, positions } of answers.slice(0, 3)) {
    console.log(`  ${shapes.map((each) => each.shape.name).join(' + ')}: ${positions} positions`);
  }
  const served = answers[0]?.chords.filter((each) => !each.complete).length ?? 0;
  console.log(`  ${served} chords served, the others covered`);
  const options = { hand: 'medium', keys: 'all', limit: 5 } as const;
  const analysing = timeOf(() => analysed(32));
  console.log(
    `  time against reading and analysing the chart: ${ratio(
      timeOf(() => searchShapes(demands, options)),
      analysing,
    )}`,
  );
}

function reportRoute(level: 1 | 3, every: MoveEvery): void {
  const options = { pins: NO_PLAN_PINS, hand: 'medium', level } as const;
  console.log(`Route at level ${level}, a move at every ${every}`);
  const longest = analysed(512);
  // warms up, so that the shorter charts are not measured cold
  for (let run = 0; run < 3; run++) findRoute(longest, options, every);
  let [timeBefore, searchedBefore] = [0, 0];
  for (const bars of [32, 64, 128, 256, 512]) {
    const analysis = analysed(bars);
    const { searched } = findRoute(analysis, options, every);
    const time = timeOf(() => findRoute(analysis, options, every));
    const growth =
      timeBefore === 0
        ? ''
        : `, ${ratio(searched, searchedBefore)} times the ways, ${ratio(time, timeBefore)} times the time`;
    const share =
      bars === 32 || bars === 512
        ? `, ${ratio(
            time,
            timeOf(() => analysed(bars)),
          )} of reading and analysing`
        : '';
    console.log(`  ${String(bars).padStart(3)} bars: ${searched} ways looked at${growth}${share}`);
    [timeBefore, searchedBefore] = [time, searched];
  }
}

function reportTravel(): void {
  const analysis = analysed(32);
  const options = { pins: NO_PLAN_PINS, hand: 'medium' } as const;
  const thumbs = ([1, 2, 3] as const).map((level) =>
    Math.round(planRoute(analysis, { ...options, level }).totalTravelMm),
  );
  console.log(`Thumb travel over the 32 bars at levels 1, 2, 3: ${thumbs.join(', ')} mm`);
}

reportShapes();
reportRoute(1, 'chord');
reportRoute(3, 'chord');
reportRoute(1, 'half bar');
reportTravel();
