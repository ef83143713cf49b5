/** Builds the workbench when its sources are newer than what was built, and serves it on this machine. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { preview } from 'vite';
import { alone } from './alone.mjs';
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
 * @param {string} [outDir] where to; `apps/web/dist` by default
 * @returns {Promise<string>} the folder with the built files
 */
export function ensureWorkbench(root, outDir = join(root, 'apps/web/dist')) {
  return alone(outDir, 'Waiting for another build', async () => {
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
