import { readChordSymbol, type ChordSymbol } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import type { BarView, ChartView } from '../../features/study/index.ts';
import { isNumbered, setStrip, slotAfterKey } from './strip-rows.ts';

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

  it('numbers every fourth of sixteen bars in a line, and keeps the room for those alone', () => {
    const long = chart(Array.from({ length: 16 }, () => 'Fm7'));
    const bars = long.sections[0]?.bars ?? [];
    expect(bars.filter((bar) => isNumbered(bar, 16)).map(({ bar }) => bar.number)).toEqual([1, 5, 9, 13]);
    expect(bars.every((bar) => isNumbered(bar, 8))).toBe(true);
    const numbered = (ems: number): boolean => setStrip(long, ems, 16).hasNumbersBeside;
    const narrowest = [40, 41, 42, 43, 44, 45, 46, 47, 48].find(numbered);
    expect(narrowest).toBeDefined();
    expect(setStrip(long, narrowest as number, 16).columns).toBe(16);
  });

  it('gives a bar of many chords more room, and its line as many bars as before', () => {
    const view = chart(['Fm7', 'Ebm7b5 Cbmaj7(#11)/Gb', ...Array.from({ length: 6 }, () => 'Fm7')]);
    const { columns, rows } = setStrip(view, 60);
    expect(columns).toBe(8);
    expect(rows).toHaveLength(1);
    const shares = rows[0]?.bars.map((bar) => bar.share) ?? [];
    expect(shares[1]).toBeGreaterThan(1.4 * (shares[0] ?? 1));
    expect(new Set(shares.filter((_, index) => index !== 1)).size).toBe(1);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1);
  });

  it('halves a line that needs more room than there is: phrases stay whole', () => {
    const many = Array.from({ length: 8 }, (_, index) => (index === 1 ? `${LONG} ${LONG}` : 'Fm7'));
    const view = chart([...many, ...Array.from({ length: 24 }, () => 'Fm7')]);
    expect(numbers(view, 50).slice(0, 2)).toEqual([
      [1, 2, 3, 4],
      [5, 6, 7, 8],
    ]);
    for (const { bars } of setStrip(view, 50).rows) {
      expect(bars.reduce((sum, bar) => sum + bar.share, 0)).toBeLessThanOrEqual(1.000001);
    }
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
