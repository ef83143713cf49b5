import { isBlack, midi } from '@fivespan/core';
import { expect, test } from 'vitest';
import { freeRows, hangFreeTabs, type FreeRoom } from './free-tabs.ts';
import { keyRects } from './key-rects.ts';
import type { StageTab } from './stage-content.ts';
import { freeStretch } from './stage-stretch.ts';

const NAMES = ['C', 'D♭', 'D', 'E♭', 'E', 'F', 'G♭', 'G', 'A♭', 'A', 'B♭', 'B'];

const roomFor = (widthPx: number): FreeRoom => {
  const { lowest, highest } = freeStretch(widthPx);
  const keys = new Map(keyRects(lowest, highest, widthPx, 1).map((key) => [key.midi as number, key]));
  return {
    widthPx,
    whitePx: keys.get(lowest)?.width ?? 1,
    tabPx: widthPx < 600 ? 63 : 57,
    comingPx: widthPx < 600 ? 34 : 40,
    centreOf: (key) => keys.get(key)?.centre,
  };
};
const tabsOn = (classes: readonly number[], role: StageTab['role'], isSecond = false): StageTab[] =>
  Array.from({ length: 88 }, (_, key) => key + 21)
    .filter((key) => classes.includes(key % 12))
    .map((key) => ({ midi: midi(key), name: NAMES[key % 12] as string, role, isSecond }));

const fifths = (from: number): number[] => [from % 12, (from + 7) % 12, (from + 14) % 12];

test.each([
  [358, 12],
  [764, 22],
  [968, 29],
  [1368, 36],
])(
  'a free hand at %i px is shown %i white keys from a C, as wide as letters from the bench need',
  (widthPx, whites) => {
    const { lowest, highest } = freeStretch(widthPx);
    const shown = Array.from({ length: highest - lowest + 1 }, (_, key) => lowest + key).filter((key) => !isBlack(key));
    expect(shown).toHaveLength(whites);
    expect(lowest % 12).toBe(0);
  },
);

test('tabs never cover each other, nor leave the picture; each name hangs in one row; all keys shown have theirs', () => {
  for (const widthPx of [358, 656, 764, 968, 1224, 1368]) {
    const room = roomFor(widthPx);
    for (let from = 0; from < 12; from++) {
      for (const second of [[], fifths(from + 6), [0, 2, 4, 6, 8, 10]]) {
        const tabs = [
          ...tabsOn(fifths(from), 'may'),
          ...tabsOn(second, 'may', true),
          ...tabsOn(fifths(from + 5), 'next'),
        ];
        const rows = freeRows([tabs], room);
        const hung = hangFreeTabs(tabs, rows, room);
        expect(hung).toHaveLength(tabs.filter((tab) => room.centreOf(tab.midi) !== undefined).length);
        const faults: string[] = [];
        for (const [index, a] of hung.entries()) {
          if (a.x - a.width / 2 < -0.6 || a.x + a.width / 2 > widthPx + 0.6) faults.push(`${a.tab.name} sticks out`);
          for (const b of hung.slice(index + 1)) {
            if (a.kind !== b.kind) continue;
            if (a.tab.name === b.tab.name && a.row !== b.row) faults.push(`${a.tab.name} in two rows`);
            const isOver = a.row === b.row && Math.abs(a.x - b.x) < (a.width + b.width) / 2 - 0.6;
            if (isOver) faults.push(`${a.tab.name} over ${b.tab.name}`);
          }
        }
        expect(faults, `${widthPx} ${from} ${second.join()}`).toEqual([]);
      }
    }
  }
});

test('three thumbs of an octave hang in one row on a tablet and a desk, two rows at most on a phone', () => {
  for (const [widthPx, most] of [
    [358, 2],
    [968, 1],
    [1368, 1],
  ] as const) {
    for (let from = 0; from < 12; from++) {
      const rows = freeRows([[...tabsOn(fifths(from), 'may'), ...tabsOn(fifths(from), 'next')]], roomFor(widthPx));
      expect(rows.first, `${widthPx} ${NAMES[from] ?? ''}`).toBeLessThanOrEqual(most);
      expect(rows.coming).toBe(1);
      expect(rows.second).toBe(0);
    }
  }
});
