/** Builds the workbench when its sources are newer than what was built, and serves it on this machine. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, preview } from 'vite';

/** What the built files are made of. */
const SOURCES = ['apps/web', 'packages/core', 'packages/formats', 'packages/sound', 'examples', 'package-lock.json'];
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
    if (name !== 'node_modules' && !/^dist/u.test(name)) sourcesOf(root, join(path, name), found);
  }
  return found;
}

/**
 * @param {string} root the repository
 * @param {string} [outDir] where to; `apps/web/dist` unless told
 * @returns {Promise<string>} the folder with the built files
 */
export async function ensureWorkbench(root, outDir = join(root, 'apps/web/dist')) {
  const hash = createHash('sha256');
  for (const source of SOURCES) hash.update(sourcesOf(root, source).join('\n'));
  const stamp = hash.digest('hex');
  const stampFile = join(outDir, STAMP);
  if (existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp) return outDir;
  mkdirSync(outDir, { recursive: true });
  await build({
    root: join(root, 'apps/web'),
    configFile: join(root, 'apps/web/vite.config.ts'),
    logLevel: 'warn',
    build: { outDir, emptyOutDir: true },
  });
  writeFileSync(stampFile, stamp);
  return outDir;
}

/**
 * Serves the built files to this machine only.
 * @param {string} root the repository
 * @param {{ outDir: string, port?: number, open?: boolean }} options port 0 takes any free one
 * @returns {Promise<{ url: string, close: () => Promise<void> }>}
 */
export async function serveWorkbench(root, { outDir, port = 0, open = false }) {
  const server = await preview({
    root: join(root, 'apps/web'),
    configFile: join(root, 'apps/web/vite.config.ts'),
    logLevel: 'warn',
    build: { outDir },
    preview: { port, host: '127.0.0.1', open, strictPort: false },
  });
  const address = server.httpServer.address();
  const url = `http://127.0.0.1:${typeof address === 'object' && address !== null ? address.port : port}/`;
  return { url, close: () => server.close() };
}
