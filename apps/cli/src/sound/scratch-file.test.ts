import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { FileOfSamples, GrowingFile } from './scratch-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'fivespan-scratch-'));
afterAll(() => rmSync(folder, { recursive: true }));

test('samples come back in order, however they were cut', () => {
  const file = new FileOfSamples(join(folder, 'samples'));
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
  // as a full disk does, a file that is gone takes no more
  expect(file.write(samples)).toBe(false);
});

test('a growing file has its pieces one after the other, and is never one that was there', () => {
  const file = new GrowingFile(join(folder, 'body'));
  file.add(Uint8Array.of(1, 2));
  file.add(Uint8Array.of(3));
  expect(file.bytes).toBe(3);
  file.close();
  expect([...readFileSync(file.path)]).toEqual([1, 2, 3]);
  expect(() => new GrowingFile(file.path)).toThrow('EEXIST');
});
