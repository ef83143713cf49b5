/**
 * What the browser saves against what the command line writes, in the same run on the same machine. Run from the repository's root:
 * npx tsx bench/web-export.ts
 *
 * 1. The demo's study page as PDF: first (the engraver and the fonts are loaded) and again in another key.
 * 2. The pack of twelve keys.
 * 3. The demo's three choruses as MP3.
 *
 * The browser has one worker fewer than there are cores (one on two), the command line one a core; each seconds' figure is of wall
 * time, from the click to the saved file and from the start of the process to its end.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { openPages, panel, savedBy } from '../checks/web/pages.ts';
import { openWorkbench } from '../checks/workbench.ts';

const bin = 'apps/cli/bin/fivespan.mjs';
const folder = mkdtempSync(join(tmpdir(), 'fivespan-bench-'));

function secondsOfCommand(...words: readonly string[]): number {
  const from = performance.now();
  const { status } = spawnSync(process.execPath, [bin, ...words], { stdio: 'ignore' });
  if (status !== 0) throw new Error(`fivespan ${words.join(' ')} ended with ${status}`);
  return (performance.now() - from) / 1000;
}

async function secondsOf(work: () => Promise<unknown>): Promise<number> {
  const from = performance.now();
  await work();
  return (performance.now() - from) / 1000;
}

async function main(): Promise<void> {
  spawnSync(process.execPath, [bin, '--help']); // builds where a source has changed
  const workbench = await openWorkbench();
  const { page } = await workbench.visit();
  const save = (button: string) => async (): Promise<void> => {
    await savedBy(page, () => page.getByRole('button', { name: button, exact: true }).click());
  };
  const row = (what: string, browser: number, command: number): void => {
    console.log(
      `${what}: browser ${browser.toFixed(1)} s, command line ${command.toFixed(1)} s, ratio ${(browser / command).toFixed(2)}`,
    );
  };

  await page.waitForURL(/#\/lesson\//u);
  const first = await secondsOf(async () => {
    await openPages(page);
    await save('Save PDF')();
  });
  const again = await secondsOf(async () => {
    await page.getByLabel('Key', { exact: true }).selectOption({ label: 'A major' });
    await save('Save PDF')();
  });
  const lesson = secondsOfCommand('lesson', 'examples/DEMO.chart', '--out', folder);
  row('the demo’s pages opened and its study page saved', first, lesson);
  row('the study page in another key, shown and saved', again, lesson);

  await panel(page, 'Several keys at once');
  await page.getByRole('radio', { name: 'All round' }).check();
  const pack = await secondsOf(save('Save 48 files in 12 keys'));
  row(
    `twelve keys (${Math.max(1, availableParallelism() - 1)} against ${availableParallelism()} workers)`,
    pack,
    secondsOfCommand('lesson', 'examples/DEMO.chart', '--keys', 'all', '--out', folder),
  );

  await panel(page, 'Sound');
  const sound = await secondsOf(save('Save sound'));
  row(
    'three choruses as MP3 (small against full bank)',
    sound,
    secondsOfCommand('sound', 'examples/DEMO.chart', '--out', join(folder, 'demo.mp3')),
  );
  await workbench.close();
  rmSync(folder, { recursive: true });
}

void main();
