/**
 * Source: issue 'The workbench': at most 200 kB of script gzipped, workers included, before the first chord can be edited;
 * engraver, bank and encoders come when needed. Sizes by zlib's gzip at its highest level, as a static host sends them.
 */
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const LIMIT_BYTES = 200_000;

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

test.skipIf(NO_CHROMIUM)('a first chord can be edited after at most 200 kB of script', async () => {
  // a lesson that is there already, so that its Chart screen is what is opened first
  const { page, context } = await workbench.visit();
  await page.waitForURL(/#\/lesson\/[\w-]+\/study$/u);
  const address = page.url().replace(/study$/u, 'chart');
  await page.close();

  const fresh = await context.newPage();
  const asked = new Set<string>();
  context.on('request', (request) => {
    // what is kept for offline use afterwards, by the service worker, delays nobody
    if (request.serviceWorker() === null) asked.add(new URL(request.url()).pathname);
  });
  // the page itself notes when the first chord is there to be edited
  await fresh.addInitScript(() => {
    new MutationObserver((_changes, observer) => {
      if (document.querySelector('[role="grid"] [data-bar="0"]') === null) return;
      performance.mark('first chord');
      observer.disconnect();
    }).observe(document, { childList: true, subtree: true });
  });
  // as on a first visit: nothing of it is in the browser's cache
  await (await context.newCDPSession(fresh)).send('Network.clearBrowserCache');
  await fresh.goto(address);
  await fresh.getByRole('grid').locator('[data-bar="0"]').click();
  const field = fresh.getByRole('textbox', { name: 'Chords of bar 1' });
  await field.fill('Gm7');
  await field.press('Enter');
  await fresh.getByRole('grid').locator('[data-bar="0"]').getByText('Gm7', { exact: true }).waitFor();

  const own = await fresh.evaluate(() => {
    const [ready] = performance.getEntriesByName('first chord');
    return performance
      .getEntriesByType('resource')
      .filter(({ startTime }) => startTime <= (ready?.startTime ?? Infinity))
      .map(({ name }) => new URL(name).pathname);
  });
  const isScript = (path: string): boolean => /\.m?js$/u.test(path);
  const isWorker = (path: string): boolean => /\/jobs-[^/]*$/u.test(path);
  // a worker that is begun before counts with everything it asks for, whenever that comes
  const before = own.some(isWorker) ? [...asked].filter(isScript) : own.filter(isScript);

  let sum = 0;
  const lines: string[] = [];
  for (const path of before) {
    const bytes = new Uint8Array(await (await fetch(new URL(path, workbench.url))).arrayBuffer());
    const packed = gzipSync(bytes, { level: 9 }).length;
    sum += packed;
    lines.push(`${String(packed).padStart(7)} ${path.replace('/assets/', '')}`);
  }
  const report = `${lines.sort().reverse().join('\n')}\n${String(sum).padStart(7)} in all`;
  expect(before.length).toBeGreaterThan(2);
  expect(sum, report).toBeLessThanOrEqual(LIMIT_BYTES);
  // the worker comes afterwards
  await expect.poll(() => [...asked].some(isWorker), { timeout: 20_000 }).toBe(true);
  // what is large is not among them
  expect(own.filter((path) => /\.(sf3|ttf|wasm|icc)$/u.test(path))).toEqual([]);
  await context.close();
});
