/** `npm test`: installs what is missing, then runs every check and says which failed. */
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureInstalled } from './install.mjs';
import { ensureJudges } from './system-packages.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const bin = (name) => join(root, 'node_modules', '.bin', name);

const CHECKS = [
  ['format', bin('prettier'), '--check', '--log-level', 'warn', '.'],
  ['lint', bin('oxlint'), '-c', 'oxlint.config.mjs', '--type-aware', '--deny-warnings'],
  ['types: core', bin('tsc'), '-p', 'packages/core'],
  ['types: formats', bin('tsc'), '-p', 'packages/formats'],
  ['types: sound', bin('tsc'), '-p', 'packages/sound'],
  ['types: cli', bin('tsc'), '-p', 'apps/cli'],
  ['types: web', bin('tsc'), '-p', 'apps/web'],
  ['types: tests and tools', bin('tsc'), '-p', '.'],
  ['dead code', bin('knip'), '--no-progress'],
  ['notice', process.execPath, 'tools/notice.mjs'],
  ['tests', bin('vitest'), 'run'],
];

await ensureInstalled(root);
ensureJudges();

const failed = [];
for (const [name, command, ...args] of CHECKS) {
  const start = Date.now();
  console.log(`\n— ${name}`);
  // CI=true: a snapshot that is missing or differs fails instead of being written.
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, CI: 'true' },
  });
  console.log(`  ${status === 0 ? 'passed' : 'FAILED'} in ${((Date.now() - start) / 1000).toFixed(1)} s`);
  if (status !== 0) failed.push(name);
}
if (failed.length > 0) console.log(`\nFailed: ${failed.join(', ')}`);
console.log(`\nchecks: ${CHECKS.length - failed.length} passed, ${failed.length} failed`);
process.exit(failed.length === 0 ? 0 : 1);
