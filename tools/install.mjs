/** Installs the npm packages when, and only when, the lockfile is not the one that was last installed. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { alone } from './alone.mjs';

/**
 * The stamp is written after npm has finished, so a half-done install (a folder without its stamp) is done again.
 * @param {string} root the repository
 */
export async function ensureInstalled(root) {
  await alone(join(root, 'node_modules'), 'Waiting for another installation', () => install(root));
}

function install(root) {
  const stampFile = join(root, 'node_modules', '.fivespan-installed');
  const lock = readFileSync(join(root, 'package-lock.json'));
  const stamp = createHash('sha256').update(lock).update(process.version).update(process.platform).digest('hex');
  if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) return;
  console.error('Installing the packages …');
  const npm = spawnSync('npm', ['ci', '--no-audit', '--no-fund'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (npm.status !== 0) {
    console.error('npm ci failed; see above. Nothing was stamped, the next run tries again.');
    process.exit(1);
  }
  writeFileSync(stampFile, stamp);
}
