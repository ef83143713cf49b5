import { midi } from '@fivespan/core';
import { layOutKeyboard } from '@fivespan/formats/diagram';
import { expect, test } from 'vitest';
import { keyOutline } from './key-outline.ts';

const keys = layOutKeyboard(midi(60), midi(83)).keys.map(({ midi: key, xMm, widthMm, lengthMm, black }) => ({
  key,
  black,
  x: xMm,
  width: widthMm,
  length: lengthMm,
}));

/** Corners of a path of M, H and V. */
function corners(path: string): { x: number; y: number }[] {
  let at = { x: 0, y: 0 };
  return [...path.matchAll(/([MHV])([\d.]+)(?: ([\d.]+))?/gu)].map(([, sign, first = '', second = '']) => {
    if (sign === 'M') at = { x: Number(first), y: Number(second) };
    else at = sign === 'H' ? { ...at, x: Number(first) } : { ...at, y: Number(first) };
    return at;
  });
}

test('the outline of a white key never lies over a black one, and that of a black one never over a white one', () => {
  for (const key of keys) {
    const path = corners(keyOutline(key, keys, 1.4));
    for (const [index, from] of path.entries()) {
      const to = path[(index + 1) % path.length] ?? from;
      for (let share = 0; share <= 1; share += 0.05) {
        const [x, y] = [from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share];
        expect(x).toBeGreaterThan(key.x);
        expect(x).toBeLessThan(key.x + key.width);
        expect(y).toBeLessThan(key.length);
        const covers = keys.filter((each) => each.black && each !== key && x > each.x && x < each.x + each.width);
        if (!key.black)
          for (const each of covers) expect(y, `${key.key} over ${each.key}`).toBeGreaterThan(each.length);
      }
    }
  }
});
