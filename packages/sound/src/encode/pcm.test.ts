import { expect, test } from 'vitest';
import { interleaved } from './pcm.ts';

test('rounds to the nearest and holds what is too loud', () => {
  const left = Float32Array.of(0, 0.5, 1, -1, 2, -2, 1 / 32768 / 2.1);
  const right = new Float32Array(7);
  expect([...interleaved(left, right, 7, 16)].filter((_, index) => index % 2 === 0)).toEqual([
    0, 16384, 32767, -32768, 32767, -32768, 0,
  ]);
  expect(interleaved(Float32Array.of(0.5), right, 1, 24)[0]).toBe(2 ** 22);
});
