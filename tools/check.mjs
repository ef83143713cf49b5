/** `npm test`: installs what is missing, then runs every check and says which failed. */
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureInstalled } from './install.mjs';
import { sideBySide } from './side-by-side.mjs';
import { staticChecks } from './static-checks.mjs';
import { ensureJudges } from './system-packages.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

await ensureInstalled(root);
ensureJudges();

const start = Date.now();
const checks = staticChecks(root);
const failed = await sideBySide(checks, { cwd: root });

console.log('\n— tests');
// CI=true: a snapshot that is missing or differs fails instead of being written.
const { status } = spawnSync(join(root, 'node_modules', '.bin', 'vitest'), ['run'], {
  cwd: root,
  stdio: ['ignore', 'inherit', 'inherit'],
  env: { ...process.env, CI: 'true' },
});
if (status !== 0) failed.push('tests');
if (failed.length > 0) console.log(`\nFailed: ${failed.join(', ')}`);
console.log(`\n${((Date.now() - start) / 60_000).toFixed(1)} minutes`);
console.log(`checks: ${checks.length + 1 - failed.length} passed, ${failed.length} failed`);
process.exit(failed.length === 0 ? 0 : 1);
