/**
 * Every glyph the product writes comes from a font of its own. A title in a script that ours have not falls back to the reader's
 * own faces (docs/type.md): that is how the check is shown to be able to fail.
 * Source: issue 'A face of its own', sections Type and Checks: no fallback to a system font; fonts at most 200 kB before a
 * chord can be edited. Chromium says which font it took for each text (DevTools protocol, CSS.getPlatformFontsForNode).
 */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const FONT_LIMIT_BYTES = 200_000;

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
}, 180_000);
afterAll(async () => {
  await workbench.close();
});

/** Texts set in a font that is not ours, as `font: markup`. */
async function strangers(page: Page): Promise<string[]> {
  const tools = await page.context().newCDPSession(page);
  await tools.send('DOM.enable');
  await tools.send('CSS.enable');
  const { root } = await tools.send('DOM.getDocument', { depth: -1 });
  const { nodeIds } = await tools.send('DOM.querySelectorAll', { nodeId: root.nodeId, selector: 'body, body *' });
  const found: string[] = [];
  for (const nodeId of nodeIds) {
    const { fonts } = await tools.send('CSS.getPlatformFontsForNode', { nodeId });
    for (const { familyName, isCustomFont } of fonts) {
      if (isCustomFont) continue;
      const { outerHTML } = await tools.send('DOM.getOuterHTML', { nodeId });
      found.push(`${familyName}: ${outerHTML.slice(0, 200)}`);
    }
  }
  await tools.detach();
  return found;
}

describe.skipIf(NO_CHROMIUM)('type', () => {
  test('no text of any screen is in a font of the system; fonts stay below their limit', async () => {
    const { page, context } = await workbench.visit();
    await page.waitForURL(/study$/u);
    const lesson = page.url().replace(/study$/u, '');
    const judge = async (place: string): Promise<void> => {
      await page.evaluate(() => document.fonts.ready);
      await expect.poll(() => strangers(page), { timeout: 30_000, message: place }).toEqual([]);
    };
    for (const screen of ['study', 'chart', 'play', 'pages']) {
      await page.goto(lesson + screen);
      await page.locator('main h2, main [role="grid"], main button').first().waitFor();
      await judge(screen);
    }
    await page.goto(`${workbench.url}#/lessons`);
    await page.getByRole('button', { name: 'More for ‘Lantern Street’' }).click();
    await page.getByRole('menu').waitFor();
    await judge('lessons');
    await page.keyboard.press('Escape');
    await page.getByRole('banner').getByRole('button', { name: 'Help', exact: true }).click();
    await page.getByRole('heading', { name: 'About' }).waitFor();
    await judge('help');
    // the check can fail: a letter that no font of ours has
    await page.evaluate(() => document.body.append(document.createTextNode('\u671D')));
    expect((await strangers(page)).length).toBeGreaterThan(0);
    const bytes = await page.evaluate(() =>
      performance
        .getEntriesByType('resource')
        .filter(({ name }) => name.endsWith('.woff2'))
        .reduce((sum, entry) => sum + (entry as PerformanceResourceTiming).encodedBodySize, 0),
    );
    expect(bytes).toBeGreaterThan(100_000);
    expect(bytes).toBeLessThanOrEqual(FONT_LIMIT_BYTES);
    await context.close();
  });
});
