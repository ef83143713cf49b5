/**
 * The kept digests, and `npm run digest`, which writes them anew: one file a chart and level. It refuses where the music changed
 * and ENGINE_VERSION did not, unless `--unreleased` says that this number has not left the house yet.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { ENGINE_VERSION } from '@fivespan/core';
import { digestOf, LEVELS } from './lesson-digest.ts';

const KEPT = join(import.meta.dirname, 'kept');
const EXAMPLES = join(import.meta.dirname, '../../examples');

/** Every chart of ours, and the one that holds the special cases. */
const CHARTS = [
  ...readdirSync(EXAMPLES)
    .filter((file) => file.endsWith('.chart'))
    .map((file) => join(EXAMPLES, file)),
  join(import.meta.dirname, 'special-cases.chart'),
];

/** Each digest's file, and how to make it. */
export const DIGESTS = CHARTS.flatMap((chart) =>
  LEVELS.map((level) => {
    const name = `${basename(chart, '.chart')}-${level}.txt`;
    return { name, file: join(KEPT, name), make: () => digestOf(readFileSync(chart, 'utf8'), level) };
  }),
);

/** What stands in a kept digest's line: `engine 3`, `hash 9f…`; undefined where it has none. */
export const stands = (text: string, line: 'engine' | 'hash'): string | undefined =>
  new RegExp(`^${line} (.*)$`, 'mu').exec(text)?.[1];

/** Names of kept files that belong to no digest. */
export const strays = (): string[] =>
  existsSync(KEPT) ? readdirSync(KEPT).filter((file) => !DIGESTS.some(({ name }) => name === file)) : [];

function refresh(isUnreleased: boolean): number {
  mkdirSync(KEPT, { recursive: true });
  for (const stray of strays()) rmSync(join(KEPT, stray));
  let changed = 0;
  for (const { name, file, make } of DIGESTS) {
    const before = existsSync(file) ? readFileSync(file, 'utf8') : '';
    const now = make();
    if (now === before) continue;
    const isOtherMusic = before !== '' && stands(before, 'hash') !== stands(now, 'hash');
    if (isOtherMusic && stands(before, 'engine') === String(ENGINE_VERSION) && !isUnreleased) {
      console.error(
        `${name}: other music from the same engine. Raise ENGINE_VERSION (packages/core/src/lesson/engine.ts),`,
      );
      console.error('or say --unreleased where this number has not left the house yet.');
      return 1;
    }
    writeFileSync(file, now);
    changed++;
  }
  console.log(`${changed} of ${DIGESTS.length} digests written: read \`git diff checks/digest\` before you keep them`);
  return 0;
}

if (process.argv[1] === import.meta.filename) process.exitCode = refresh(process.argv.includes('--unreleased'));
