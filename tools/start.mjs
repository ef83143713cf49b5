/**
 * `npm start`: installs what is missing, makes the sound bank, builds the workbench when its sources are newer, serves it on this
 * machine and opens a browser where there is one. Goes on until it is stopped.
 */
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureInstalled } from './install.mjs';

/**
 * Always the same: what a browser keeps for a page belongs to its address, port included. Our own choice, in nobody's register
 * of ports.
 */
const PORT = 5315;

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** Whether the workbench is being served at an address already. */
async function isServed(url) {
  try {
    const answer = await fetch(url, { signal: AbortSignal.timeout(2000) });
    return answer.ok && (await answer.text()).includes('<title>Fivespan</title>');
  } catch {
    return false;
  }
}

/** The program that opens an address in the user's browser; undefined where there is no screen to show one on. */
function opener() {
  if (process.env.CI !== undefined || process.env.BROWSER === 'none') return undefined;
  if (process.platform === 'darwin') return ['open'];
  if (process.platform === 'win32') return ['cmd', '/c', 'start', ''];
  const hasScreen = (process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY ?? '') !== '';
  const found = (process.env.PATH ?? '').split(':').some((folder) => existsSync(join(folder, 'xdg-open')));
  return hasScreen && found ? ['xdg-open'] : undefined;
}

/** Opens a browser where there is one. Never fails: the address is printed anyway. */
function openBrowser(url) {
  const [command, ...args] = opener() ?? [];
  if (command === undefined) return;
  try {
    const started = spawn(command, [...args, url], { detached: true, stdio: 'ignore' });
    started.on('error', () => {});
    started.unref();
  } catch {
    // no browser then
  }
}

await ensureInstalled(root);
// only now: what follows needs the packages
const { ensureWorkbench, serveWorkbench } = await import('./workbench.mjs');

let outDir;
try {
  outDir = await ensureWorkbench(root);
} catch (error) {
  console.error(`The workbench could not be built. ${error instanceof Error ? error.message : String(error)}`);
  process.exit(1);
}
const usual = `http://localhost:${PORT}/`;
if (await isServed(usual)) {
  console.log(`Fivespan is open already, and up to date: ${usual}`);
  openBrowser(usual);
  process.exit(0);
}

const { port, close } = await serveWorkbench(root, { outDir, port: PORT });
const url = `http://localhost:${port}/`;
console.log(`
Fivespan is open at   ${url}
It shows the demo lesson, ready to study and play. Your lessons stay in your browser, on this machine.
Stop it with Ctrl+C.

The command line makes files without a browser:
  npx --no-install fivespan lesson examples/DEMO.chart --keys all
`);
if (port !== PORT) {
  console.log(
    `Another program uses port ${PORT}. Lessons made at ${usual} are not shown here: a browser keeps them by address.\n`,
  );
}
openBrowser(url);

for (const signal of ['SIGINT', 'SIGTERM']) {
  process.once(signal, () => {
    void close().finally(() => process.exit(0));
  });
}
