/**
 * Source: issue 'The workbench': offline once loaded, installable, static files; engraver, bank and encoders come when needed and
 * are then kept; no request leaves the origin. Web manifest: W3C, Web Application Manifest (members from memory).
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const root = join(import.meta.dirname, '../..');

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

/** A visit that waits until the page is answered for without a network. */
async function visitKept(): Promise<{ page: Page; context: BrowserContext; errors: string[] }> {
  const visit = await workbench.visit({ serviceWorkers: 'allow' });
  await visit.page.waitForURL(/#\/lesson\/[\w-]+\/study$/u);
  // not waitForFunction: the policy forbids the text it runs
  await visit.page.evaluate(async () => {
    const { serviceWorker } = navigator;
    await serviceWorker.ready;
    if (serviceWorker.controller !== null) return;
    await new Promise((resolve) => {
      serviceWorker.addEventListener('controllerchange', resolve, { once: true });
    });
  });
  return visit;
}

const pathOf = (href: string): string => new URL(href).pathname;

describe.skipIf(NO_CHROMIUM)('without a network', () => {
  test('a reload shows the lesson, every screen opens, and the worker computes', async () => {
    const { page, context, errors } = await visitKept();
    await context.setOffline(true);
    await page.reload();
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    for (const name of ['Chart', 'Study', 'Play']) {
      await page.getByRole('navigation').getByRole('link', { name }).click();
      await page.getByRole('main').getByRole('heading').first().waitFor();
      expect(await page.getByRole('alert').count()).toBe(0);
    }
    // and a change is made, computed and kept
    await page.getByRole('navigation').getByRole('link', { name: 'Chart' }).click();
    await page.getByRole('grid').locator('[data-bar="0"]').click();
    const field = page.getByRole('textbox', { name: 'Chords of bar 1' });
    await field.fill('Gm7');
    await field.press('Enter');
    await page.locator('[data-saving="saved"]').waitFor();
    await page.reload();
    await page.getByRole('grid').locator('[data-bar="0"]').getByText('Gm7', { exact: true }).waitFor();
    expect(errors.filter((each) => !/ERR_(INTERNET_DISCONNECTED|FAILED)/u.test(each))).toEqual([]);
    await context.close();
  });

  test('what is large comes when asked for, is told as it comes, and is then kept', async () => {
    const { page, context } = await visitKept();
    const list = JSON.parse(await (await fetch(`${workbench.url}files.json`)).text()) as {
      path: string;
      bytes: number;
    }[];
    const largest = list.toSorted((a, b) => b.bytes - a.bytes)[0]!;
    const isKept = (path: string): Promise<boolean> =>
      page.evaluate(
        async (each) => (await caches.match(new URL(each, document.baseURI).href, { ignoreVary: true })) !== undefined,
        path,
      );
    expect(await isKept(largest.path)).toBe(false);

    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('button', { name: 'Keep everything for offline use' }).click();
    await page.getByText(/Everything is kept/u).waitFor();
    for (const { path } of list) expect([path, await isKept(path)]).toEqual([path, true]);

    await context.setOffline(true);
    const bytes = await page.evaluate(
      async (path) => (await (await fetch(path)).arrayBuffer()).byteLength,
      pathOf(new URL(largest.path, workbench.url).href),
    );
    expect(bytes).toBe(largest.bytes);
    await page.reload();
    await page.getByRole('navigation').getByRole('link', { name: 'Pages' }).click();
    await page.getByRole('main').getByRole('img').first().waitFor();
    await context.close();
  });
});

describe.skipIf(NO_CHROMIUM)('the web manifest', () => {
  test('makes it installable: a name, a start, its own window, icons that are there in the sizes they claim', async () => {
    const { page, context } = await workbench.visit({ serviceWorkers: 'allow' });
    const href = await page.locator('link[rel="manifest"]').getAttribute('href');
    const address = new URL(href ?? '', workbench.url);
    const manifest = (await (await fetch(address)).json()) as {
      readonly name: string;
      readonly start_url: string;
      readonly display: string;
      readonly icons: readonly {
        readonly src: string;
        readonly sizes: string;
        readonly type: string;
        readonly purpose?: string;
      }[];
    };
    expect(manifest).toMatchObject({ name: 'Fivespan', display: 'standalone', start_url: './' });
    for (const { src, sizes, type } of manifest.icons) {
      const answer = await fetch(new URL(src, address));
      expect(answer.headers.get('content-type')).toContain(type);
      if (type !== 'image/png') continue;
      const { width, height } = PNG.sync.read(Buffer.from(await answer.arrayBuffer()));
      expect(`${width}x${height}`).toBe(sizes);
    }
    expect(manifest.icons.map((each) => each.sizes)).toEqual(expect.arrayContaining(['192x192', '512x512']));
    expect(manifest.icons.some((each) => each.purpose === 'maskable')).toBe(true);
    await context.close();
  });
});

test('the licences of all that ships lie beside it', async () => {
  const served = await (await fetch(`${workbench.url}NOTICE.txt`)).text();
  expect(served).toBe(await readFile(join(root, 'NOTICE'), 'utf8'));
});
