/**
 * How fast a chart's text is read and worked on, and how that grows. Run from the repository's root: npx tsx bench/chart.ts
 *
 * Charts of our own with 32 to 8,192 bars; each figure is the least of several runs, then its ratio to 32 bars (linear is
 * bars / 32). The peer of the same run is JSON.parse of the same chart as data.
 */
import {
  barsOf,
  keepIds,
  parseKey,
  readChart,
  transposeChart,
  unfold,
  writeChart,
  type Chart,
  type Key,
} from '@fivespan/core';

const RUNS = 15;
const least = (work: () => unknown): number =>
  Math.min(
    ...Array.from({ length: RUNS }, () => {
      const from = performance.now();
      work();
      return performance.now() - from;
    }),
  );

/** No two lines are the same, so that nothing is saved by remembering a line. */
const textOf = (bars: number): string =>
  Array.from(
    { length: bars / 4 },
    (_, line) => `| ${'CDEFGAB'[line % 7]}m7 Bb7 | Ebmaj7 / / C7(b9) | ${line % 3 === 0 ? '%' : 'Am7b5'} | Gm6 D7alt |`,
  ).join('\n');

const read = (text: string): Chart => {
  const chart = readChart(`key: Eb major\n${text}`);
  if (!chart.ok) throw new TypeError('the bench chart must read');
  return chart.value;
};

const toKey = parseKey('Gb major') as Key;
const first = new Map<string, number>();
for (const bars of [32, 128, 512, 1024, 8192]) {
  const text = textOf(bars);
  const chart = read(text);
  const edited = read(text.replace('| Am7b5 |', '| Am7b5 | Dm7 |'));
  const json = JSON.stringify(chart);
  const figures: readonly (readonly [string, () => unknown])[] = [
    ['read', () => readChart(text)],
    ['unfold', () => unfold(chart)],
    ['write', () => writeChart(chart)],
    ['transpose', () => transposeChart(chart, toKey)],
    ['keep ids', () => keepIds(chart, edited)],
    ['JSON.parse', () => JSON.parse(json) as unknown],
  ];
  const words = figures.map(([name, work]) => {
    const ms = least(work);
    if (!first.has(name)) first.set(name, ms);
    return `${name} ${ms.toFixed(2)} ms (×${(ms / (first.get(name) as number)).toFixed(1)})`;
  });
  console.log(`${barsOf(chart).length} bars, linear ×${bars / 32}: ${words.join(', ')}`);
}
