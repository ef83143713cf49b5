import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { expect, test } from 'vitest';
import { scratchFile } from './scratch-file.ts';

test('a scratch file gives back what it took, in order, and leaves nothing behind', () => {
  const ours = (): string[] => readdirSync(tmpdir()).filter((name) => name.startsWith('fivespan-'));
  const before = ours();
  const file = scratchFile()!;
  const samples = Float32Array.from({ length: 1000 }, (_, index) => Math.fround(index / 7));
  // parts of arrays, as sound is handed over
  expect(file.write(samples.subarray(0, 300))).toBe(true);
  expect(file.write(samples.subarray(300))).toBe(true);
  const [first, rest] = [new Float32Array(10), new Float32Array(990)];
  file.read(first);
  file.read(rest);
  expect([...first, ...rest]).toEqual([...samples]);
  expect(() => file.read(new Float32Array(1))).toThrow('cut off');
  file.close();
  file.close();
  expect(ours().filter((name) => !before.includes(name))).toEqual([]);
});
