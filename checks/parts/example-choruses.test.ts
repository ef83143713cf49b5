/** The example choruses are what the engine makes. Our own rule: an example that nobody could make again is none. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { EXAMPLE_CHORUSES } from './example-choruses.ts';

test.each(EXAMPLE_CHORUSES)('$name is what the engine makes (npx tsx checks/parts/example-choruses.ts)', (example) => {
  expect(readFileSync(example.file, 'utf8')).toBe(example.make());
});
