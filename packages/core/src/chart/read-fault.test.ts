import { expect, test, vi } from 'vitest';
import { messageOf } from '../issue/index.ts';
import type * as chordSymbols from '../theory/chord-symbol.ts';
import { readAround } from './read-around.ts';
import { readChart } from './read-chart.ts';

// a reader of symbols with a fault of its own: it cannot abide one chord
vi.mock('../theory/chord-symbol.ts', async (original) => {
  const real = await original<typeof chordSymbols>();
  return {
    ...real,
    readChordSymbol: (text: string) => {
      if (text === 'Eb13') throw new RangeError('Maximum call stack size exceeded');
      return real.readChordSymbol(text);
    },
  };
});

test.each([
  ['| Fm7 | Eb13 |', 1],
  ['title: Tide Table\n\nA:\n| Fm7 | Bb7 |\n| Ebmaj7 |\n| Eb13 | Eb13 |\n| Cm7 |', 6],
  ['A:\r\n| Fm7 |\r\n| Eb13 |\r\n', 3],
])('a fault of our own in reading is an issue at its line, never an exception: %j', (text, line) => {
  const { chart, issues } = readAround(text);
  expect(chart).toBeNull();
  expect(issues).toMatchObject([{ code: 'chart.not-read', place: { line } }]);
  expect(issues.map(messageOf).join()).toContain('its own fault');
  expect(readChart(text).ok).toBe(false);
});
