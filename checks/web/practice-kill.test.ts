/**
 * Source: issue 'Practice with a free hand', Checks: "a kill loses at most one second of log". The browser's own process is killed, not
 * closed: nothing gets to say goodbye.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { chromium, type BrowserContext, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { CHROMIUM_FLAGS, CHROMIUM_PROGRAM, NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const CHART_TEXT =
  'title: Quick Ford\nkey: F major\ntempo: 200\n\nA:\n| Gm7 | C7 | Fmaj7 | % |\n| Gm7 | C7 | Fmaj7 | % |\n';

let workbench: Workbench;
let profile: string;
const started: ChildProcess[] = [];
beforeAll(async () => {
  workbench = await openWorkbench();
  profile = await mkdtemp(join(tmpdir(), 'fivespan-kill-'));
});
afterAll(async () => {
  for (const process of started) process.kill('SIGKILL');
  await workbench.close();
  await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
});

/** A browser of our own, whose process we hold, on the profile. */
async function start(): Promise<{ process: ChildProcess; page: Page; context: BrowserContext }> {
  const flags = [...CHROMIUM_FLAGS, '--headless', '--remote-debugging-port=0', `--user-data-dir=${profile}`];
  const process = spawn(CHROMIUM_PROGRAM, flags, { stdio: ['ignore', 'ignore', 'pipe'] });
  started.push(process);
  let address: string | undefined;
  for await (const line of createInterface({ input: process.stderr })) {
    address = /DevTools listening on (\S+)/u.exec(line)?.[1];
    if (address !== undefined) break;
  }
  const browser = await chromium.connectOverCDP(address ?? '');
  const context = browser.contexts()[0] as BrowserContext;
  context.setDefaultTimeout(90_000);
  await context.addInitScript(() => {
    localStorage['fivespan.settings'] ??= JSON.stringify({ tourSeen: true, cautionsSeen: true });
  });
  const page = await context.newPage();
  await page.goto(workbench.url);
  return { process, page, context };
}

/** Seconds in the log of this profile, as the database has them. */
function loggedSeconds(page: Page): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const opening = indexedDB.open('fivespan-practice');
        opening.addEventListener('success', () => {
          const { result } = opening;
          if (!result.objectStoreNames.contains('log')) {
            result.close();
            resolve(0);
            return;
          }
          const all = result.transaction('log').objectStore('log').getAll();
          all.addEventListener('success', () => {
            result.close();
            resolve(
              (all.result as { entry: { seconds: number } }[]).reduce((sum, { entry }) => sum + entry.seconds, 0),
            );
          });
        });
      }),
  );
}

test.skipIf(NO_CHROMIUM)(
  'a browser that is killed while one practises has lost a second of the log at most',
  async () => {
    const first = await start();
    const { page } = first;
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('button', { name: 'Paste a chart' }).click();
    await page.getByLabel('Chart text').fill(CHART_TEXT);
    await page.getByRole('button', { name: 'Make the lesson' }).click();
    await page.getByRole('link', { name: 'Play', exact: true }).click();
    await page.getByText(/^Ready:/u).waitFor();
    await page.getByText(/^Today:/u).click();
    await page.getByRole('button', { name: 'Begin: Thumbs alone' }).click();
    await page.locator('[data-bar-now]').waitFor();
    await expect.poll(() => loggedSeconds(page), { timeout: 60_000, interval: 100 }).toBeGreaterThan(2);
    const before = { logged: await loggedSeconds(page), ms: performance.now() };
    await new Promise((resolve) => setTimeout(resolve, 3500));
    const practised = (performance.now() - before.ms) / 1000;
    first.process.kill('SIGKILL');
    await new Promise((resolve) => first.process.once('exit', resolve));

    const second = await start();
    const after = await loggedSeconds(second.page);
    const lost = before.logged + practised - after;
    // a second, and what a busy machine takes to come to its timers
    expect(lost).toBeLessThan(1 + 0.75);
    expect(after).toBeGreaterThan(before.logged);
  },
);
