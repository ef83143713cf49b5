/**
 * `npm run quick`: static checks and the tests of what changed against main (or against the commit named after it), no journeys.
 * The tests of what changed are those of its room, those that outside sources hold over its subject, and the music's digest.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureInstalled } from './install.mjs';
import { sideBySide } from './side-by-side.mjs';
import { staticChecks } from './static-checks.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
await ensureInstalled(root);

const git = (...args) => spawnSync('git', args, { cwd: root, encoding: 'utf8' }).stdout.split('\n').filter(Boolean);
const [against = git('merge-base', 'HEAD', 'main')[0] ?? 'HEAD'] = process.argv.slice(2);
const changed = [...git('diff', '--name-only', against), ...git('ls-files', '--others', '--exclude-standard')].filter(
  (file) => existsSync(join(root, file)),
);

/** Where the tests of a changed file are: its folder, and for a stage of core the checks of that name. */
function testsOf(file) {
  if (/\.test\.tsx?$/u.test(file)) return file.startsWith('checks/web/') ? [] : [file];
  if (!/\.(?:ts|tsx|css)$/u.test(file)) return [];
  const [, pack, stage] = /^packages\/(\w+)\/src\/(\w+)\//u.exec(file) ?? [];
  const subject = pack === 'core' ? stage : pack;
  const checks = subject !== undefined && existsSync(join(root, 'checks', subject)) ? [`checks/${subject}/`] : [];
  return [`${dirname(file)}/`, ...checks, ...(pack === 'core' ? ['checks/digest/'] : [])];
}

const start = Date.now();
const tests = [...new Set(changed.flatMap(testsOf))].filter((path) => !path.startsWith('checks/web/'));
const failed = await sideBySide(staticChecks(root, changed), { cwd: root });
if (tests.length > 0) {
  console.log(`\n— tests of ${tests.join(' ')}`);
  const projects = ['--project', 'shared', '--project', 'alone'];
  const { status } = spawnSync(
    join(root, 'node_modules/.bin/vitest'),
    ['run', '--passWithNoTests', ...projects, ...tests],
    { cwd: root, stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, CI: 'true' } },
  );
  if (status !== 0) failed.push('tests');
}
console.log(`\n${changed.length} files changed, ${((Date.now() - start) / 1000).toFixed(0)} s`);
console.log(failed.length === 0 ? 'quick: nothing failed' : `quick: failed: ${failed.join(', ')}`);
process.exit(failed.length === 0 ? 0 : 1);
