import { readChordSymbol, type ChordSymbol } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import type { BarView, ChartView } from '../../features/study/index.ts';
import { setStrip, slotAfterKey } from './strip-rows.ts';

function chord(symbol: string): ChordSymbol {
  const read = readChordSymbol(symbol);
  if (!read.ok) throw new RangeError(`symbol must be a chord symbol, not ${symbol}`);
  return read.value;
}

/** Sections of bars, each bar its chords between blanks. */
function chart(...sections: readonly (readonly string[])[]): ChartView {
  let number = 0;
  const barOf = (symbols: string): BarView => {
    number++;
    const slots = symbols
      .split(' ')
      .map((symbol, index) => ({ name: { slot: `${number}.${index}`, pass: 1 }, chord: chord(symbol) }));
    return { bar: { number }, place: number - 1, passes: 1, slots } as unknown as BarView;
  };
  return {
    sections: sections.map((bars, index) => ({ id: String(index), name: null, bars: bars.map(barOf) })),
    regions: [],
    figures: [],
    forms: [],
  };
}

const LONG = 'Ebm7b5 Cbmaj7(#11)/Gb Bb7(b9,b13) Abm11';
const numbers = (view: ChartView, ems: number): number[][] =>
  setStrip(view, ems).rows.map(({ bars }) => bars.map(({ bar }) => bar.number));

describe('the strip', () => {
  const usual = chart(Array.from({ length: 8 }, (_, index) => (index % 3 === 0 ? 'Fm7' : 'Ebmaj7')));

  it('has as many bars in a line as fit', () => {
    expect(numbers(usual, 60)).toEqual([[1, 2, 3, 4, 5, 6, 7, 8]]);
    expect(numbers(usual, 20)).toEqual([
      [1, 2, 3, 4],
      [5, 6, 7, 8],
    ]);
    expect(numbers(usual, 1)).toHaveLength(8);
  });

  it('gives a bar of many chords more columns, and the others keep theirs', () => {
    const view = chart(['Fm7', LONG, ...Array.from({ length: 8 }, () => 'Fm7')]);
    const { columns, rows } = setStrip(view, 60);
    expect(columns).toBe(8);
    expect(rows[0]?.bars.map((bar) => bar.columns)).toEqual([1, 4, 1, 1, 1]);
    for (const { bars } of rows) expect(bars.reduce((sum, bar) => sum + bar.columns, 0)).toBeLessThanOrEqual(8);
  });

  it('begins a line with a section; arrows go along it, and to the line above and below', () => {
    const view = chart(['Fm7', 'Bb7'], ['Gm7', 'C7']);
    const { rows } = setStrip(view, 60);
    expect(rows).toHaveLength(2);
    expect(slotAfterKey('ArrowRight', rows, '2.0')?.name.slot).toBe('3.0');
    expect(slotAfterKey('ArrowDown', rows, '2.0')?.name.slot).toBe('4.0');
    expect(slotAfterKey('Home', rows, '4.0')?.name.slot).toBe('1.0');
    expect(slotAfterKey('ArrowUp', rows, '1.0')).toBeUndefined();
  });
});
