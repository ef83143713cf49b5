import { expect, test } from 'vitest';
import { delayOf } from './key-delay.ts';

test('the delay is the middle of how late the taps were; a slip does not move it, too few say nothing', () => {
  const late = (ms: readonly number[]): number[] => ms.map((each, index) => (index + 2) * 0.6 + each / 1000);
  expect(delayOf(late([40, 42, 38, 41, 250]))).toBe(41);
  expect(delayOf(late([-5, -8, -3, -6, -4]))).toBe(0);
  expect(delayOf(late([40, 40]))).toBeNull();
  // the first clicks are listened to
  expect(delayOf([0, 0.6, ...late([30, 30, 30, 30])])).toBe(30);
});
