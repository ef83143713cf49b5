/** Builds the workbench when its sources are newer than what was built, and serves it on this machine. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { writeFileSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { preview } from 'vite';
import { ensureBank } from './bank.mjs';

/** What the built files are made of. */
const SOURCES = [
  'apps/web',
  'packages/core',
  'packages/formats',
  'packages/sound',
  'examples',
  'package-lock.json',
  'tools/bank.mjs',
  'tools/workbench.mjs',
];
const STAMP = '.fivespan-built';

/** Every source file with its size and time: what a build depends on. */
function sourcesOf(root, path = '', found = []) {
  const place = join(root, path);
  if (!existsSync(place)) return found;
  const status = statSync(place);
  if (!status.isDirectory()) {
    found.push(`${path} ${status.size} ${status.mtimeMs}`);
    return found;
  }
  for (const name of readdirSync(place).sort()) {
    if (name !== 'node_modules' && !name.startsWith('dist')) sourcesOf(root, join(path, name), found);
  }
  return found;
}

function stampOf(root) {
  const hash = createHash('sha256');
  for (const source of SOURCES) hash.update(sourcesOf(root, source).join('\n'));
  return hash.digest('hex');
}

function isRunning(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

/** A build takes seconds; a lock that is older was left behind, whoever has its owner's number now. */
const OLDEST_LOCK_MS = 5 * 60_000;

/** Does a piece of work while no other process does it to the same folder; waits for one that does, and says so. */
async function alone(folder, work) {
  const lock = `${folder}.lock`;
  mkdirSync(dirname(folder), { recursive: true });
  for (let waits = 0; ; waits++) {
    try {
      const file = openSync(lock, 'wx');
      writeSync(file, String(process.pid));
      closeSync(file);
      break;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
      if (waits === 10) console.error(`Waiting for another build of ${folder} …`);
      if (isLeftBehind(lock)) takeAway(lock);
      else await wait(200);
    }
  }
  try {
    return await work();
  } finally {
    rmSync(lock, { force: true });
  }
}

/** Whether a lock's owner was ended in the middle of its work. */
function isLeftBehind(lock) {
  try {
    const owner = Number(readFileSync(lock, 'utf8'));
    if (owner > 0 && !isRunning(owner)) return true;
    return Date.now() - statSync(lock).mtimeMs > OLDEST_LOCK_MS;
  } catch {
    // gone meanwhile
    return false;
  }
}

/** Takes a lock away that was left behind; of two that try, one does: a rename happens once. */
function takeAway(lock) {
  const aside = `${lock}.${process.pid}`;
  try {
    renameSync(lock, aside);
    // another may have taken it away and begun, between the look and the rename: then it is theirs
    if (isLeftBehind(aside)) rmSync(aside, { force: true });
    else renameSync(aside, lock);
  } catch {
    // another did
  }
}

/** Builds in a process of its own: as a product, also where tests ask for it (vite goes by NODE_ENV, which vitest sets). */
async function built(root, outDir) {
  const { VITEST: _inTest, ...environment } = process.env;
  const vite = spawn(
    process.execPath,
    [
      join(root, 'node_modules/vite/bin/vite.js'),
      'build',
      'apps/web',
      '--outDir',
      outDir,
      '--emptyOutDir',
      '--logLevel',
      'error',
    ],
    { cwd: root, env: { ...environment, NODE_ENV: 'production' }, stdio: ['ignore', 2, 2] },
  );
  const [code] = await once(vite, 'exit');
  if (code !== 0) throw new Error(`vite build ended with ${code}; see above.`);
}

/**
 * @param {string} root the repository
 * @param {string} [outDir] where to; `apps/web/dist` unless told
 * @returns {Promise<string>} the folder with the built files
 */
export function ensureWorkbench(root, outDir = join(root, 'apps/web/dist')) {
  return alone(outDir, async () => {
    await ensureBank(root);
    const stamp = stampOf(root);
    const stampFile = join(outDir, STAMP);
    if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) return outDir;
    console.error('Building the workbench …');
    mkdirSync(outDir, { recursive: true });
    await built(root, outDir);
    writeFileSync(stampFile, stamp);
    return outDir;
  });
}

/**
 * Serves the built files to this machine only.
 * @param {string} root the repository
 * @param {{ outDir: string, port?: number }} options port 0 takes any free one; one that is taken gives way to the next
 * @returns {Promise<{ url: string, port: number, close: () => Promise<void> }>}
 */
export async function serveWorkbench(root, { outDir, port = 0 }) {
  const server = await preview({
    root: join(root, 'apps/web'),
    configFile: join(root, 'apps/web/vite.config.ts'),
    logLevel: 'error',
    build: { outDir },
    preview: { port, host: '127.0.0.1', open: false, strictPort: false },
  });
  const address = server.httpServer.address();
  const taken = typeof address === 'object' && address !== null ? address.port : port;
  return { url: `http://127.0.0.1:${taken}/`, port: taken, close: () => server.close() };
}
