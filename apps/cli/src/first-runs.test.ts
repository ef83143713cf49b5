/**
 * First runs of the command line, several at once: each builds where nothing is built yet, or waits for the one that
 * does.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { afterAll, expect, test } from 'vitest';

const cli = join(import.meta.dirname, '..');
// inside the package: what is built finds other packages from where it lies
const dist = join(cli, 'dist', `first-runs-${process.pid}`);
afterAll(() => rmSync(dist, { recursive: true, force: true }));

test('eight first runs at once: one builds, all of them answer', async () => {
  const runs = Array.from({ length: 8 }, async () => {
    const run = spawn(process.execPath, [join(cli, 'bin', 'fivespan.mjs'), '--help'], {
      env: { ...process.env, FIVESPAN_CLI_DIST: dist },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const [out, err, [code]] = await Promise.all([text(run.stdout), text(run.stderr), once(run, 'exit')]);
    return { out, err, code: code as number | null };
  });
  const ended = await Promise.all(runs);
  expect(ended.map(({ code }) => code)).toEqual(ended.map(() => 0));
  expect(new Set(ended.map(({ out }) => out)).size).toBe(1);
  expect(ended[0]?.out).toContain('lesson');
  // nothing but what is being built, or waited for
  const said = ended.flatMap(({ err }) => err.split('\n')).filter((line) => line !== '');
  expect(said.filter((line) => line === 'fivespan: building …')).toHaveLength(1);
  expect(said.filter((line) => !/^fivespan: (?:building|another run is building) …$/u.test(line))).toEqual([]);
  // one bundle, no lock and no half of anything
  expect(readdirSync(dist).filter((name) => name !== 'current.json')).toHaveLength(1);
});
