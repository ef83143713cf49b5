/**
 * Source: issue 'The workbench': phone width; texts resized to 200 %. Widths and sizes: WCAG 2.2, 1.4.4 (200 %), 1.4.10 (320 CSS
 * pixels), 2.5.8 (targets of 24 CSS pixels).
 */
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { goTo, SCREENS } from './screens.ts';
import { openFromHead, openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

describe.skipIf(NO_CHROMIUM)('the page fits', () => {
  /** What sticks out of the window, and buttons too small to be hit. */
  const misfits = (page: Page): Promise<string[]> =>
    page.evaluate(() => {
      const found: string[] = [];
      const { scrollWidth, clientWidth } = document.documentElement;
      if (scrollWidth > clientWidth) found.push(`the page is ${scrollWidth} wide in a window of ${clientWidth}`);
      for (const each of document.querySelectorAll('button, [role="button"], input:not([type="hidden"]), select')) {
        const { width, height } = each.getBoundingClientRect();
        const isSeen = width > 1 && height > 1 && getComputedStyle(each).visibility === 'visible';
        const hasLabel = each.closest('label') !== null || each.closest('[role="radiogroup"]') !== null;
        if (isSeen && !hasLabel && (width < 24 || height < 24)) {
          found.push(`${each.tagName} '${each.textContent?.slice(0, 30)}' is ${width} by ${height}`);
        }
      }
      return found;
    });

  const everywhere = async (page: Page): Promise<string[]> => {
    const found: string[] = [];
    for (const screen of SCREENS) {
      await goTo(page, screen);
      found.push(...(await misfits(page)).map((each) => `${screen}: ${each}`));
    }
    for (const name of ['Settings', 'Help'] as const) {
      await openFromHead(page, name);
      await page.getByRole('dialog', { name }).getByRole('heading').nth(1).waitFor();
      found.push(...(await misfits(page)).map((each) => `${name}: ${each}`));
      await page.keyboard.press('Escape');
      await page.getByRole('dialog', { name }).waitFor({ state: 'hidden' });
    }
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('heading', { name: 'Lessons' }).waitFor();
    found.push(...(await misfits(page)).map((each) => `Lessons: ${each}`));
    await page.goBack();
    return found;
  };

  // one visit for all: a window changes its size, too, and only letters of another size are loaded anew
  let page: Page;
  let context: BrowserContext;
  beforeAll(async () => {
    // loaded on a phone: the others are the window made smaller and larger
    ({ page, context } = await workbench.visit({ reducedMotion: 'reduce', viewport: { width: 390, height: 844 } }));
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
  });
  afterAll(() => context.close());

  test.each([
    ['on a phone', 390, 844],
    ['on a small one, and at 400 % of a desk', 320, 640],
    ['on a tablet on the music stand', 820, 1180],
  ])('%s, without scrolling sideways', async (_what, width, height) => {
    await page.setViewportSize({ width, height });
    expect(await everywhere(page)).toEqual([]);
  });

  test('with its text at twice the size', async () => {
    // the browser's own setting for the size of text, 16 pixels where nobody changes it
    const devtools = await context.newCDPSession(page);
    await devtools.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.reload();
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    expect(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize)).toBe('32px');
    expect(await everywhere(page)).toEqual([]);
  });
});
