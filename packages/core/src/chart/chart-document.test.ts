/** Every example of docs/chart.md is read; what it says of it is so. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { messageOf, remedyOf } from '../issue/index.ts';
import { readChordSymbol } from '../theory/index.ts';
import { unfold } from './form/unfold.ts';
import { readChart } from './read-chart.ts';
import { writeChart } from './write-chart.ts';

const text = readFileSync(join(import.meta.dirname, '../../../../docs/chart.md'), 'utf8');
const charts = [...text.matchAll(/```chart\n([^`]+)```\n(?:\nPlayed: ([\d ]+)\n)?/gu)];
const faulty = [...text.matchAll(/```faulty\n([^`]+)```\n\n```issues\n([^`]+)```/gu)];

describe('docs/chart.md', () => {
  test('has its examples', () => {
    expect(charts.length).toBeGreaterThanOrEqual(8);
    expect(faulty).toHaveLength(1);
  });

  test.each(charts.map(([, chart = '', played]) => [chart, played] as const))('%s', (chart, played) => {
    const read = readChart(chart);
    expect(read).toMatchObject({ ok: true, warnings: [] });
    if (!read.ok) return;
    const numbers = unfold(read.value).bars.map(({ bar }) => bar.number);
    if (played !== undefined) expect(numbers.join(' ')).toBe(played);
    expect(readChart(writeChart(read.value))).toEqual(read);
  });

  test.each(faulty.map(([, chart = '', issues = '']) => [chart, issues] as const))('%s', (chart, issues) => {
    const read = readChart(chart);
    const lines = (read.ok ? [] : read.issues).map((issue) => {
      const { line, column, bar } = issue.place;
      return `${line}:${column}${bar === undefined ? '' : ` (bar ${bar})`} ${messageOf(issue)}; ${remedyOf(issue)}\n`;
    });
    expect(lines.join('')).toBe(issues);
  });

  test('every spelling in the table of chord symbols is written back as it says', () => {
    const rows = [...text.matchAll(/^\| `([^`]+)` *\| (`.+`) *\|$/gmu)];
    expect(rows.length).toBeGreaterThanOrEqual(13);
    for (const [, canonical = '', others = ''] of rows) {
      for (const [, spelling = ''] of `\`${canonical}\` ${others}`.matchAll(/`([^`]+)`/gu)) {
        const chord = readChordSymbol(spelling);
        expect(chord.ok && chord.value.symbol, spelling).toBe(canonical);
      }
    }
  });
});
