import { MOST_PROGRAMME_CHORUSES, NO_AIDS, parseKey, type Key, type Programme } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { programmeFault, tempoLadder, withChorus, withCopy, withMoved, withoutChorus } from './programme.ts';

const key = parseKey('C major') as Key;
const programme = (...tempi: number[]): Programme => ({
  setUp: 'trio',
  swing: 'measured',
  voicings: 'rootless',
  countInBars: 1,
  aids: NO_AIDS,
  choruses: tempi.map((tempoBpm) => ({ key, tempoBpm, players: ['bass'] })),
});
const tempi = ({ choruses }: Programme): number[] => choruses.map(({ tempoBpm }) => tempoBpm);

test('what is wrong with a programme is told, not swallowed', () => {
  const choruses = (count: number): Programme => programme(...Array.from({ length: count }, () => 120));
  expect(programmeFault(choruses(MOST_PROGRAMME_CHORUSES))).toBeNull();
  expect(programmeFault(choruses(MOST_PROGRAMME_CHORUSES + 1))).toBe('too many');
});

describe('rows', () => {
  test('are changed, doubled, taken out and moved, the others staying', () => {
    const three = programme(60, 70, 80);
    expect(tempi(withChorus(three, 1, { tempoBpm: 75 }))).toEqual([60, 75, 80]);
    expect(tempi(withCopy(three, 1))).toEqual([60, 70, 70, 80]);
    expect(tempi(withoutChorus(three, 0))).toEqual([70, 80]);
    expect(tempi(withMoved(three, 0, 1))).toEqual([70, 60, 80]);
    expect(tempi(withMoved(three, 2, -1))).toEqual([60, 80, 70]);
    expect(tempi(three)).toEqual([60, 70, 80]);
  });

  test('stay where there is nowhere to go, and one always stays', () => {
    const two = programme(60, 70);
    expect(tempi(withMoved(two, 0, -1))).toEqual([60, 70]);
    expect(tempi(withMoved(two, 1, 1))).toEqual([60, 70]);
    expect(tempi(withoutChorus(programme(60), 0))).toEqual([60]);
    expect(tempi(withCopy(two, 7))).toEqual([60, 70]);
  });
});

describe('a ladder of tempi', () => {
  test.each([
    [60, 90, 10, [60, 70, 80, 90]],
    [60, 85, 10, [60, 70, 80, 85]],
    [90, 75, 10, [90, 80, 75]],
    [120, 120, 10, [120]],
  ])('from %d to %d in steps of %d', (from, to, step, ladder) => {
    expect(tempoLadder(from, to, step)).toEqual(ladder);
  });

  test('has steps', () => {
    expect(() => tempoLadder(60, 90, 0)).toThrow(/^stepBpm /u);
  });
});
