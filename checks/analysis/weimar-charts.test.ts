/**
 * Real changes by others. Source: Weimar Jazz Database, chord grids (Frieler, Pfleiderer, Zaddach, Abesser: jazzodata;
 * marks R and C in docs/sources.md, 5); notes of chords against the library chord-symbol 4.0.0 (MIT).
 */
import { describe, expect, test } from 'vitest';
import { barsOf, beatsOf, readChart, readChordSymbol, setOfChord, unfold, writeChart } from '@fivespan/core';
import { independentSet } from '../theory/chord-symbol.ts';
import { beatsOfGrid, ourSpelling, ourText, weimarGrids } from '../weimar-grid.ts';

const grids = weimarGrids ?? [];
const spellings = [...new Set(grids.flatMap((grid) => grid.sections.flatMap(({ bars }) => bars.flat())))].filter(
  (cell) => cell !== '',
);

describe.skipIf(weimarGrids === null)(
  `Weimar grids${weimarGrids === null ? ' (skipped: open data not here)' : ''}`,
  () => {
    test('every chord spelling is understood, its pitch classes those of an independent reader', () => {
      expect(spellings.length).toBeGreaterThan(300);
      const notUnderstoodThere: string[] = [];
      for (const spelling of spellings) {
        const symbol = ourSpelling(spelling);
        const chord = readChordSymbol(symbol);
        expect(chord.ok, `${spelling} as ${symbol}`).toBe(true);
        if (!chord.ok || chord.value.kind === 'no chord') continue;
        const expected = independentSet(symbol);
        if (expected === undefined) notUnderstoodThere.push(symbol);
        else expect(setOfChord(chord.value), `${spelling} as ${symbol}`).toBe(expected);
      }
      expect(notUnderstoodThere).toEqual([]);
    });

    test('every grid reads as a chart; bars with a beat too many or too few are reported, and only those', () => {
      let faults = 0;
      let faulty = 0;
      let read = 0;
      for (const grid of grids) {
        const chart = readChart(ourText(grid));
        const bars = grid.sections.flatMap((section) => section.bars);
        const wrong = bars.flatMap((bar, index) => (bar.length === beatsOfGrid(grid) ? [] : [index + 1]));
        if (chart.ok) {
          read++;
          expect(wrong, grid.solo).toEqual([]);
          const written = barsOf(chart.value);
          expect(written.map((bar) => bar.slots.reduce((sum, slot) => sum + slot.durationTicks, 0))).toEqual(
            written.map((bar) => bar.durationTicks),
          );
          expect(written.length).toBe(bars.length);
          expect(unfold(chart.value).bars.length).toBe(bars.length);
          expect(written.every((bar) => beatsOf(bar.meter) === beatsOfGrid(grid))).toBe(true);
          expect(readChart(writeChart(chart.value))).toEqual({ ok: true, value: chart.value, warnings: [] });
        } else {
          faulty++;
          faults += chart.issues.length;
          expect(
            chart.issues.map((issue) => issue.place.bar),
            grid.solo,
          ).toEqual(wrong);
          expect(new Set(chart.issues.map((issue) => issue.code))).toEqual(new Set(['chart.cells']));
        }
      }
      // of the five such bars the data's README tells of, this split has two, in one grid
      expect({ read, faulty, faults }).toEqual({ read: 226, faulty: 1, faults: 2 });
    });
  },
);
