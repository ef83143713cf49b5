import { isBlack, midi } from '@fivespan/core';
import { expect, test } from 'vitest';
import { placeInRow, tabWidthPx } from './place-tabs.ts';
import { fewestWhites, mostWhites, stageStretch } from './stage-stretch.ts';

const whites = ({ lowest, highest }: { lowest: number; highest: number }): number => {
  let count = 0;
  for (let key = lowest; key <= highest; key++) if (!isBlack(key)) count++;
  return count;
};

test('the keys shown hold all that the hand travels over, or as many as fit; their number depends on width and travels alone', () => {
  for (const widthPx of [290, 358, 560, 764, 968, 1224, 1368]) {
    for (let low = 45; low <= 80; low++) {
      for (const reach of [9, 14, 22, 30, 40]) {
        const high = Math.min(low + reach, 105);
        const travels = { lowest: midi(low), highest: midi(high) };
        const counts = new Set<number>();
        for (const seen of [[], [low], [high - 9, low], [low, low + 5, high - 3]]) {
          const stretch = stageStretch(
            widthPx,
            travels,
            seen.map((key) => midi(key)),
          );
          counts.add(whites(stretch));
          expect(isBlack(stretch.lowest) || isBlack(stretch.highest)).toBe(false);
          if (seen[0] !== undefined) {
            expect(stretch.lowest).toBeLessThanOrEqual(seen[0]);
            expect(stretch.highest).toBeGreaterThanOrEqual(seen[0]);
          }
          if (whites(stretch) < mostWhites(widthPx)) {
            expect(stretch.lowest).toBeLessThanOrEqual(travels.lowest);
            expect(stretch.highest).toBeGreaterThanOrEqual(travels.highest);
          }
        }
        expect([...counts], `${widthPx} ${low} ${reach}`).toHaveLength(1);
        expect([...counts][0]).toBeGreaterThanOrEqual(Math.min(fewestWhites(widthPx), mostWhites(widthPx)));
      }
    }
  }
});

test('tabs never cover each other nor leave the picture, and stay at their keys where they can', () => {
  const width = 358;
  const names = ['E′', 'G', 'B♭″'];
  for (let first = 0; first <= width; first += 7) {
    for (let second = 0; second <= width; second += 11) {
      const tabs = [first, second].map((keyX, index) => ({ keyX, width: tabWidthPx(names[index] ?? '', 61) }));
      const at = placeInRow(tabs, width);
      const [a = 0, b = 0] = at;
      const [left, right] = a <= b ? [0, 1] : [1, 0];
      const half = (index: number): number => (tabs[index]?.width ?? 0) / 2;
      expect(Math.abs(a - b) + 0.5).toBeGreaterThanOrEqual(half(0) + half(1));
      expect((at[left] ?? 0) - half(left)).toBeGreaterThanOrEqual(-0.01);
      expect((at[right] ?? 0) + half(right)).toBeLessThanOrEqual(width + 0.01);
    }
  }
  expect(
    placeInRow(
      [
        { keyX: 50, width: 40 },
        { keyX: 150, width: 40 },
      ],
      358,
    ),
  ).toEqual([50, 150]);
});
