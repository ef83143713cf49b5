/**
 * How long the workbench takes until a first chord can be edited, against an empty page of the same server in the same browser and
 * run. Run from the repository's root: npx tsx bench/web-load.ts
 *
 * 1. Bytes: script, style and the rest that come before the first chord is there, gzipped at the highest level, against the limit of
 *    200 kB of script.
 * 2. Time from opening the address to the first chord being there, nothing in the browser's cache, medians of 9 visits; the same for
 *    an empty page, until it is drawn.
 * 3. The same from what was kept for offline use, with the network off.
 */
import { gzipSync } from 'node:zlib';
import type { BrowserContext, Page } from 'playwright-core';
import { openWorkbench } from '../checks/workbench.ts';

const VISITS = 9;
const LIMIT_BYTES = 200_000;
const FIRST_CHORD = '[role="grid"] [data-bar="0"]';

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] as number;

/** Notes in the page when what is sought is there and drawn. */
async function watched(context: BrowserContext, sought: string): Promise<Page> {
  const page = await context.newPage();
  await page.addInitScript((selector) => {
    new MutationObserver((_changes, observer) => {
      if (document.querySelector(selector) === null) return;
      observer.disconnect();
      performance.mark('there');
      requestAnimationFrame(() => setTimeout(() => performance.mark('drawn')));
    }).observe(document, { childList: true, subtree: true });
  }, sought);
  return page;
}

interface Opened {
  readonly ms: number;
  /** Paths of what was asked for before. */
  readonly before: readonly string[];
}

async function opened(context: BrowserContext, address: string, sought: string, cold: boolean): Promise<Opened> {
  const page = await watched(context, sought);
  if (cold) await (await context.newCDPSession(page)).send('Network.clearBrowserCache');
  await page.goto(address);
  await page.locator(sought).first().waitFor({ state: 'attached' });
  await page.waitForTimeout(1000);
  const found = await page.evaluate(() => ({
    thereMs: performance.getEntriesByName('there')[0]?.startTime ?? Number.NaN,
    drawnMs: performance.getEntriesByName('drawn')[0]?.startTime ?? Number.NaN,
    resources: performance.getEntriesByType('resource').map(({ name, startTime }) => ({ name, startTime })),
  }));
  await page.close();
  return {
    ms: found.drawnMs,
    before: found.resources
      .filter(({ startTime }) => startTime <= found.thereMs)
      .map(({ name }) => new URL(name).pathname),
  };
}

async function main(): Promise<void> {
  const workbench = await openWorkbench();
  const packed = async (path: string): Promise<number> =>
    gzipSync(new Uint8Array(await (await fetch(new URL(path, workbench.url))).arrayBuffer()), { level: 9 }).length;
  const sum = async (paths: readonly string[]): Promise<number> => {
    let bytes = 0;
    for (const path of new Set(paths)) bytes += await packed(path);
    return bytes;
  };
  const kilobytes = (bytes: number): string => `${(bytes / 1000).toFixed(1)} kB`;

  const { page, context } = await workbench.visit({ serviceWorkers: 'allow' });
  await page.waitForURL(/\/study$/u);
  const chart = page.url().replace(/study$/u, 'chart');
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.close();

  // without the service worker: a first visit's page, with a lesson that is there already
  const state = await context.storageState({ indexedDB: true });
  const bare = await workbench.browser.newContext({ serviceWorkers: 'block', storageState: state });
  const first = await opened(bare, chart, FIRST_CHORD, true);
  const script = await sum(first.before.filter((path) => path.endsWith('.js')));
  const rest = await sum(first.before.filter((path) => !path.endsWith('.js')));
  console.log(
    `before the first chord: ${kilobytes(script)} of script (limit ${kilobytes(LIMIT_BYTES)}), ratio ${(script / LIMIT_BYTES).toFixed(2)}; ${kilobytes(rest)} else`,
  );

  const chords: number[] = [];
  const empties: number[] = [];
  for (let visit = 0; visit < VISITS; visit++) {
    chords.push((await opened(bare, chart, FIRST_CHORD, true)).ms);
    empties.push((await opened(bare, new URL('icon.svg', workbench.url).href, 'svg', true)).ms);
  }
  const [chord, empty] = [median(chords), median(empties)];
  console.log(
    `first chord drawn, nothing cached: ${chord.toFixed(0)} ms; a drawn icon alone ${empty.toFixed(0)} ms; ratio ${(chord / empty).toFixed(1)}`,
  );

  await context.setOffline(true);
  const kept: number[] = [];
  for (let visit = 0; visit < VISITS; visit++) kept.push((await opened(context, chart, FIRST_CHORD, false)).ms);
  console.log(
    `first chord drawn, no network: ${median(kept).toFixed(0)} ms, ratio to the first visit ${(median(kept) / chord).toFixed(2)}`,
  );
  await workbench.close();
}

await main();
