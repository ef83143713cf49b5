/**
 * Chord grids of the Weimar Jazz Database as plain data (../shared/data/wjd/charts.json; its README has authors and
 * licence). Its way of writing is turned into ours here; nothing of it is part of the product.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyse, NO_ANALYSIS_PINS, readChart, type Analysis, type Chart } from '@fivespan/core';

export interface WeimarGrid {
  readonly solo: string;
  readonly melid: number;
  readonly title: string;
  readonly key: string;
  readonly signature: string;
  readonly tonality_type: string;
  readonly sections: readonly { readonly label: string; readonly bars: readonly (readonly string[])[] }[];
}

const path = join(
  process.env['FIVESPAN_OPEN_DATA'] ?? join(import.meta.dirname, '..', '..', 'shared'),
  'data',
  'wjd',
  'charts.json',
);

/** All grids, or null where the open data is not on this machine. */
export const weimarGrids: readonly WeimarGrid[] | null = existsSync(path)
  ? (JSON.parse(readFileSync(path, 'utf8')) as WeimarGrid[])
  : null;

/** Their types of chord in our spelling; longest first. Source: the data's README, 'Chord spelling'. */
const TYPES: readonly (readonly [theirs: string, ours: string])[] = [
  ['m7b5', 'm7b5'],
  ['7alt', '7alt'],
  ['sus7', '7sus'],
  ['sus', 'sus'],
  ['-j7', 'm(maj7)'],
  ['+j7', '+maj7'],
  ['j7', 'maj7'],
  ['-69', 'm6/9'],
  ['-6', 'm6'],
  ['-7', 'm7'],
  ['-', 'm'],
  ['+7', '+7'],
  ['+', '+'],
  ['o7', 'dim7'],
  ['o', 'dim'],
  ['69', '6/9'],
  ['6', '6'],
  ['7', '7'],
  ['', ''],
];

/** A chord of theirs as we write it: `G79b13` → `G7(b9,13)`. Throws on what the README does not describe. */
export function ourSpelling(theirs: string): string {
  if (theirs === 'NC') return 'N.C.';
  const [, root = '', rest = '', bass = ''] = /^([A-G][b#]?)([^/]*)(\/[A-G][b#]?)?$/u.exec(theirs) ?? [];
  const type = TYPES.find(([each]) => rest.startsWith(each));
  const extensions = rest.slice(type?.[0].length ?? 0);
  if (root === '' || type === undefined || !/^(?:(?:9|11|13)[b#]?)*$/u.test(extensions)) {
    throw new TypeError(`unexpected chord in the data: ${theirs}`);
  }
  const list = [...extensions.matchAll(/(9|11|13)([b#]?)/gu)].map(([, number, accidental]) => `${accidental}${number}`);
  // with a major seventh a 9 is named by the number, as musicians (and the library) do: maj9(#11)
  const isNinth = type[1].includes('maj7') && list[0] === '9';
  const ours = isNinth ? type[1].replace('7', '9') : type[1];
  const others = isNinth ? list.slice(1) : list;
  return root + ours + (others.length === 0 ? '' : `(${others.join(',')})`) + bass;
}

/** Beats a bar of the grid: the commonest count of its cells (the data's signature is the solo's, and sometimes another). */
export function beatsOfGrid(grid: WeimarGrid): number {
  const counts = new Map<number, number>();
  for (const bar of grid.sections.flatMap((section) => section.bars)) {
    counts.set(bar.length, (counts.get(bar.length) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 4;
}

/** The grid in our text form: every beat a cell. */
export function ourText(grid: WeimarGrid): string {
  const sections = grid.sections.map(({ label, bars }) => {
    const texts = bars.map((bar) => bar.map((cell) => (cell === '' ? '/' : ourSpelling(cell))).join(' '));
    return `${label}:\n| ${texts.join(' | ')} |`;
  });
  return `meter: ${beatsOfGrid(grid)}/4\n\n${sections.join('\n')}\n`;
}

/**
 * Charts and analyses by text: the collection has many solos over the same changes, and several checks read them all.
 */
const charts = new Map<string, Chart>();
const analyses = new Map<Chart, Analysis>();

/** The grid as a chart without a stated key. A bar with a beat too many or too few (one grid) is cut or filled to read at all. */
export function chartOfGrid(grid: WeimarGrid): Chart {
  const beats = beatsOfGrid(grid);
  const sections = grid.sections
    .filter(({ bars }) => bars.length > 0)
    .map((section) => ({
      ...section,
      bars: section.bars.map((bar) => Array.from({ length: beats }, (_, beat) => bar[beat] ?? '')),
    }));
  const text = ourText({ ...grid, sections });
  const known = charts.get(text);
  if (known !== undefined) return known;
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError(`${grid.solo}: ${JSON.stringify(chart.issues)}`);
  charts.set(text, chart.value);
  return chart.value;
}

/** What is found in a grid's chart, nothing pinned; once for each. */
export function analysisOfGrid(grid: WeimarGrid): Analysis {
  return analysisOfChart(chartOfGrid(grid));
}

/** The same of a chart that is a grid's (chartOfGrid). */
export function analysisOfChart(chart: Chart): Analysis {
  const known = analyses.get(chart);
  if (known !== undefined) return known;
  const analysis = analyse(chart, NO_ANALYSIS_PINS);
  analyses.set(chart, analysis);
  return analysis;
}
