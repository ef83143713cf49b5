import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Journeys that hear or time: one at a time, on a machine left to them. The others only look, and share it. */
const LISTENING = ['play', 'midi'].map((name) => `checks/web/${name}.test.ts`);
const JOURNEYS = ['checks/web/*.test.ts', 'checks/**/web-*.test.ts'];
const NEVER = ['**/node_modules/**', '**/dist/**'];

/** Where tests are that need no browser. */
const FOLDERS = ['packages', 'apps', 'checks', 'tools'];

/**
 * Tests that put something in the place of a module, a global or a clock, or keep a database: each wants a world of its own.
 * Found by what they say, so that nobody has to remember a list.
 */
const ALONE = FOLDERS.flatMap((folder) => testsIn(folder)).filter((file) =>
  /\bvi\.(?:mock|doMock|stubGlobal|useFakeTimers|resetModules)\(|fake-indexeddb/u.test(
    readFileSync(join(import.meta.dirname, file), 'utf8'),
  ),
);

function testsIn(folder: string): string[] {
  return readdirSync(join(import.meta.dirname, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return /^(?:node_modules|dist)/u.test(entry.name) ? [] : testsIn(path);
    return /\.test\.tsx?$/u.test(entry.name) ? [path] : [];
  });
}

export default defineConfig({
  test: {
    testTimeout: 180_000,
    // the first that asks for the workbench builds it, the others wait
    hookTimeout: 300_000,
    maxWorkers: 2,
    reporters: ['default', './tools/timing-reporter.ts'],
    projects: [
      {
        extends: true,
        test: {
          // modules are loaded once a worker, not once a file
          name: 'shared',
          include: FOLDERS.map((folder) => `${folder}/**/*.test.{ts,tsx}`),
          exclude: [...NEVER, ...ALONE, ...JOURNEYS],
          pool: 'threads',
          isolate: false,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: { name: 'alone', include: ALONE, sequence: { groupOrder: 1 } },
      },
      {
        extends: true,
        test: {
          name: 'journeys',
          include: JOURNEYS,
          exclude: [...NEVER, ...LISTENING],
          // modules, the served workbench and the browser are there once a worker (checks/workbench.ts)
          isolate: false,
          // A browser, its sound and a build share the cores of whatever machine this is: what fails for want of time
          // passes at the second try, what is broken fails again.
          retry: 1,
          sequence: { groupOrder: 2 },
        },
      },
      {
        extends: true,
        test: {
          name: 'listening',
          include: LISTENING,
          maxWorkers: 1,
          isolate: false,
          retry: 1,
          sequence: { groupOrder: 3 },
        },
      },
    ],
  },
});
