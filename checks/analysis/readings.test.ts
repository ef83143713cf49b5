/**
 * Keys and first chord-scales of small charts against one reader of jazz theory. Source: readings.json of the open data, made for
 * this project (an opinion, common practice; no published source). What we read otherwise, and why: docs/analysis.md.
 */
import { analyse, formatKey, formatNoteName, NO_ANALYSIS_PINS, readChart, type Analysis } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { openDataText } from '../open-data.ts';

interface Expected {
  readonly id: string;
  readonly chart: string;
  /** `?` where the reader names none. */
  readonly key: string;
  readonly scales: readonly string[] | null;
}

const text = openDataText('readings', 'readings.json');
const expected = text === null ? [] : (JSON.parse(text) as readonly Expected[]);

function read(chart: string): Analysis | null {
  const result = readChart(chart);
  return result.ok ? analyse(result.value, NO_ANALYSIS_PINS) : null;
}

const analyses = expected.map((each) => ({ ...each, analysis: read(each.chart) }));

/** The first chord-scale of every sounding slot. */
const firstScales = ({ slots }: Analysis): string[] =>
  slots.flatMap(({ chordScales: [first] }) =>
    first === undefined ? [] : [`${formatNoteName(first.scale.root)} ${first.name}`],
  );

/** How many of the reader's scales stand among ours in the same order: his list may leave out chords that come again. */
function inOrder(wanted: readonly string[], ours: readonly string[]): number {
  let row = Array.from({ length: ours.length + 1 }, () => 0);
  for (const want of wanted) {
    const names = want.split(/ or |;/u).map((name) => name.trim());
    const next = [0];
    for (const [at, name] of ours.entries()) {
      const here = (row[at] as number) + (names.includes(name) ? 1 : 0);
      next.push(Math.max(here, row[at + 1] as number, next[at] as number));
    }
    row = next;
  }
  return row.at(-1) as number;
}

describe.skipIf(text === null)(`one reader's charts${text === null ? ' (skipped: open data not here)' : ''}`, () => {
  test('the key is his in at least 97 %', () => {
    const keyed = analyses.filter(({ key }) => key !== '?');
    const other = keyed.filter(
      ({ key, analysis }) => analysis === null || !key.split(' or ').includes(formatKey(analysis.key)),
    );
    console.info(`keys as the reader: ${keyed.length - other.length} of ${keyed.length}`);
    for (const { id, key, analysis } of other) {
      console.info(`  ${id}: ${key}, found ${analysis === null ? 'none' : formatKey(analysis.key)}`);
    }
    expect(keyed.length).toBe(73);
    expect((keyed.length - other.length) / keyed.length).toBeGreaterThanOrEqual(0.97);
  });

  test('the first chord-scale is his in at least 97 %', () => {
    let [right, all] = [0, 0];
    for (const { id, scales, analysis } of analyses) {
      if (scales === null || analysis === null) continue;
      const held = inOrder(scales, firstScales(analysis));
      right += held;
      all += scales.length;
      if (held < scales.length) {
        console.info(
          `  ${id}: ${held} of ${scales.length}; his ${scales.join(', ')}; ours ${firstScales(analysis).join(', ')}`,
        );
      }
    }
    console.info(`first chord-scales as the reader: ${right} of ${all}`);
    expect(all).toBeGreaterThan(280);
    expect(right / all).toBeGreaterThanOrEqual(0.97);
  });
});
