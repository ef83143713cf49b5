/**
 * Source: issue 'The workbench': "A short first-run tour on the demo lesson that one can skip and find again; help that explains each
 * word of the trade in a sentence"; design, 'Seeing inside': a diagnostics file, no telemetry.
 */
import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openFromHead, openWorkbench, type Workbench } from '../workbench.ts';

/** What the look round speaks of, as it is marked in the page. */
const STEPS = ['lesson', 'chart', 'study', 'play', 'pages', 'lessons', 'help'];

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

const help = async (page: Page): Promise<void> => {
  await openFromHead(page, 'Help');
  await page.getByRole('dialog', { name: 'Help' }).waitFor();
};

describe.skipIf(NO_CHROMIUM)('the look round', () => {
  test.each([
    ['desk', 1280, 900],
    ['phone', 390, 844],
  ])('stands beside what it speaks of, inside the window: %s', async (where, width, height) => {
    const { page, context, errors } = await workbench.visit({ tour: true, viewport: { width, height } });
    const box = page.getByRole('dialog', { name: 'A look round' });
    for (const [index, step] of STEPS.entries()) {
      await box.getByText(`${index + 1} of ${STEPS.length}`).waitFor();
      const target = (await page.locator(`[data-tour="${step}"]`).boundingBox())!;
      const own = (await box.boundingBox())!;
      const apart = Math.max(own.y - (target.y + target.height), target.y - (own.y + own.height));
      expect(apart).toBeGreaterThanOrEqual(0);
      if (where === 'desk') {
        expect(apart).toBeLessThan(30);
        // its middle need not be the target's, but some of it is above or below
        expect(own.x).toBeLessThan(target.x + target.width);
        expect(own.x + own.width).toBeGreaterThan(target.x);
      } else {
        // at the window's foot, clear of the head with its ways elsewhere
        const head = (await page.getByRole('banner').boundingBox())!;
        expect(own.y).toBeGreaterThanOrEqual(head.y + head.height);
        expect(own.y + own.height).toBeLessThanOrEqual(height);
      }
      await box.getByRole('button', { name: 'Skip' }).click({ trial: true });
      if (step === 'lesson') {
        await box.getByRole('button', { name: 'Hear two bars' }).click();
        // it ends by itself
        await box.getByRole('button', { name: 'Stop' }).waitFor();
        await box.getByRole('button', { name: 'Hear two bars' }).waitFor();
      }
      expect(own.x).toBeGreaterThanOrEqual(0);
      expect(own.x + own.width).toBeLessThanOrEqual(width);
      await box.getByRole('button', { name: index === STEPS.length - 1 ? 'Done' : 'Next' }).click();
    }
    await box.waitFor({ state: 'hidden' });
    await help(page);
    await page.getByRole('button', { name: 'Show me round again' }).click();
    await box.getByText(`1 of ${STEPS.length}`).waitFor();
    await expect.poll(() => box.evaluate((element) => element.contains(document.activeElement))).toBe(true);
    // nothing is locked meanwhile
    await page.getByRole('navigation').getByRole('link', { name: 'Chart', exact: true }).press('Enter');
    await page.getByRole('main', { name: 'Chart' }).waitFor();
    await page.getByRole('textbox', { name: 'Title' }).fill('Another name');
    expect(
      await page.getByRole('textbox', { name: 'Title' }).evaluate((field) => field === document.activeElement),
    ).toBe(true);
    await box.waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });
});

describe.skipIf(NO_CHROMIUM)('the help', () => {
  test("has the screen's words first, finds others, and tells what was found", async () => {
    const { page, context } = await workbench.visit();
    await page.getByRole('main', { name: 'Study' }).waitFor();
    await help(page);
    const dialog = page.getByRole('dialog', { name: 'Help' });
    await dialog.getByRole('heading', { level: 2 }).first().waitFor();
    const headings = await dialog.getByRole('heading', { level: 2 }).allTextContents();
    expect(headings[0]).toBe('Study');
    expect(headings.indexOf('Words on Study')).toBeLessThan(headings.indexOf('Other words'));
    await dialog.getByRole('searchbox', { name: 'Find a word' }).fill('thumb tab');
    await dialog.getByRole('status').filter({ hasText: 'One word' }).waitFor();
    await dialog.getByText(/small tab under the thumb/u).waitFor();
    await dialog.getByRole('searchbox').fill('no such word');
    await dialog.getByRole('status').filter({ hasText: 'No such word' }).waitFor();
    await context.close();
  });
});

describe.skipIf(NO_CHROMIUM)('a screen that breaks', () => {
  test('leaves the frame and the lesson standing, and a file that says what broke and holds no lesson', async () => {
    const { page, context } = await workbench.visit({ serviceWorkers: 'block', acceptDownloads: true });
    await page.getByRole('main', { name: 'Study' }).waitFor();
    await page.route(/\/PagesScreen-[^/]*\.js$/u, (route) =>
      route.fulfill({
        contentType: 'text/javascript',
        // the bundler hands the screen over under a letter of its choice
        body: `const screen = { default: () => { throw new Error('broken for the check'); } };
          export { ${[...'abcdefghijklmnopqrstuvwxyz'].map((letter) => `screen as ${letter}`).join(', ')} };
          export default screen.default;`,
      }),
    );
    await page.getByRole('navigation').getByRole('link', { name: 'Pages' }).click();
    const told = page.getByRole('alert').filter({ hasText: 'This screen has stopped' });
    await told.getByText('broken for the check').waitFor();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      told.getByRole('button', { name: 'Save a diagnostics file' }).click(),
    ]);
    const text = await readFile(await download.path(), 'utf8');
    expect(JSON.parse(text)).toMatchObject({ screen: 'pages', mishaps: [{ message: 'Error: broken for the check' }] });
    expect(text).not.toMatch(/Lantern|Fm7/u);
    await page.getByRole('navigation').getByRole('link', { name: 'Chart' }).click();
    await page.getByRole('grid').waitFor();
    await context.close();
  });

  test.each(['js', 'css'])('and one whose %s file did not come is there once it does', async (kind) => {
    const { page, context } = await workbench.visit({ serviceWorkers: 'block' });
    await page.getByRole('main', { name: 'Study' }).waitFor();
    await page.route(new RegExp(`/PlayScreen-[^/]*\\.${kind}$`, 'u'), (route) => route.abort());
    await page.getByRole('navigation').getByRole('link', { name: 'Play' }).click();
    const told = page.getByRole('alert').filter({ hasText: 'Without a network this screen is not here yet' });
    const again = told.getByRole('button', { name: 'Try again' });
    await again.waitFor();
    await page.unrouteAll();
    await again.click();
    await page.getByRole('heading', { name: 'Play', level: 1 }).waitFor();
    await context.close();
  });
});
