/**
 * The command line against its limits, as a user waits for it. Run from the repository's root: npx tsx bench/lesson.ts
 *
 * 1. `fivespan lesson examples/DEMO.chart --keys all` against 20 s on two cores.
 * 2. `fivespan --help` against an empty Node process: at most three times as long. Median of many runs, taken in turn.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';

const RUNS = 15;
const LESSON_LIMIT_SECONDS = 20;
const HELP_LIMIT_RATIO = 3;
const bin = 'apps/cli/bin/fivespan.mjs';

function secondsOf(words: readonly string[]): number {
  const from = performance.now();
  const { status } = spawnSync(process.execPath, words, { stdio: 'ignore' });
  if (status !== 0) throw new Error(`node ${words.join(' ')} ended with ${status}`);
  return (performance.now() - from) / 1000;
}

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1] as number;

secondsOf([bin, '--help']); // builds where a source has changed
const empty: number[] = [];
const help: number[] = [];
for (let run = 0; run < RUNS; run++) {
  empty.push(secondsOf(['-e', '0']));
  help.push(secondsOf([bin, '--help']));
}
console.log(
  `help: ${(median(help) * 1000).toFixed(0)} ms, empty Node: ${(median(empty) * 1000).toFixed(0)} ms, ` +
    `ratio ${(median(help) / median(empty)).toFixed(2)} (limit ${HELP_LIMIT_RATIO})`,
);

const folder = mkdtempSync(join(tmpdir(), 'fivespan-bench-'));
const seconds = secondsOf([bin, 'lesson', 'examples/DEMO.chart', '--keys', 'all', '--out', folder]);
rmSync(folder, { recursive: true });
console.log(`twelve keys: ${seconds.toFixed(1)} s, ${(seconds / LESSON_LIMIT_SECONDS).toFixed(2)} of the limit`);
