import { expect, test } from 'vitest';
import { soundingVelocity } from './velocity.ts';

test('spreads 1 … 127 over what can be heard, never downwards', () => {
  const all = Array.from({ length: 127 }, (_, index) => soundingVelocity(index + 1));
  expect([all[0], all[126]]).toEqual([10, 127]);
  expect(all).toEqual(all.toSorted((a, b) => a - b));
});

test.each([0, 128, 64.5, NaN])('%d is no velocity', (velocity) => {
  expect(() => soundingVelocity(velocity)).toThrow(/^velocity /u);
});
