/**
 * Source: our own promise, the same chart, choices and seed give the same music from one engine. What is kept was made by this
 * program and read by its makers: it proves no note right, it makes every change seen.
 */
import { existsSync, readFileSync } from 'node:fs';
import { ENGINE_VERSION } from '@fivespan/core';
import { expect, test } from 'vitest';
import { DIGESTS, stands, strays } from './digests.ts';

test('a digest for each example and level, and no other', () => {
  expect(DIGESTS.filter(({ file }) => !existsSync(file)).map(({ name }) => name)).toEqual([]);
  expect(strays()).toEqual([]);
});

test.each(DIGESTS)('$name is what the engine makes', ({ file, make }) => {
  const kept = readFileSync(file, 'utf8');
  expect(stands(kept, 'engine'), 'kept by another engine: npm run digest, and read the difference').toBe(
    String(ENGINE_VERSION),
  );
  expect(make(), 'other music: raise ENGINE_VERSION, npm run digest, read the difference').toBe(kept);
});
