/** Source: issue 'The workbench': keyboard-only use of the main job, the focus kept and given back (WCAG 2.2, 2.1 and 2.4). */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

describe.skipIf(NO_CHROMIUM)('with the keyboard alone', () => {
  /** What has the focus: its name as far as it has one. */
  const focused = (page: Page): Promise<string> =>
    page.evaluate(() => {
      const element = document.activeElement;
      return element === null || element === document.body
        ? 'nothing'
        : (element.getAttribute('aria-label') ?? element.textContent ?? '').trim();
    });

  /** Presses Tab until the focus is on what is named; fails where it never gets there. */
  async function tabTo(page: Page, name: RegExp | string, most = 80): Promise<void> {
    for (let presses = 0; presses < most; presses++) {
      await page.keyboard.press('Tab');
      const here = await page.evaluate(() => {
        const element = document.activeElement;
        return (element?.getAttribute('aria-label') ?? element?.textContent ?? '').trim();
      });
      if (typeof name === 'string' ? here === name : name.test(here)) return;
    }
    throw new Error(`Tab never came to ${String(name)}`);
  }

  test('the whole main job: a chart is written, studied, pinned, played and printed; nothing leaves, nothing fails', async () => {
    const { page, context, errors } = await workbench.visit({ acceptDownloads: true });
    const elsewhere: string[] = [];
    context.on('request', (request) => {
      const { protocol, origin } = new URL(request.url());
      if (protocol.startsWith('http') && origin !== new URL(workbench.url).origin) elsewhere.push(request.url());
    });
    const press = async (name: RegExp | string, most?: number): Promise<void> => {
      await tabTo(page, name, most);
      await page.keyboard.press('Enter');
    };
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    await press('Lessons');
    await page.getByRole('heading', { name: 'Lessons' }).waitFor();
    await press('New chart');

    // a new chart takes typing at once
    await page.getByRole('grid').waitFor();
    for (const chord of ['Dm7', 'G7', 'Cmaj7']) {
      await page.keyboard.type(chord);
      await page.keyboard.press('Tab');
    }
    await page.getByRole('gridcell', { name: /^Bar 3, C major seven/u }).waitFor();
    await page.keyboard.press('Escape');

    await press('Study', 150);
    await page.getByRole('main', { name: 'Study' }).waitFor();
    const hand = page.getByRole('img', { name: /^Thumb on/u });
    await hand.first().waitFor();
    await tabTo(page, /D minor seven|Dm7/u);
    await page.keyboard.press('ArrowRight');
    await page.getByRole('heading', { name: /^G7/u }).waitFor();
    await press(/^Pin .+ here$/u);
    await page
      .getByRole('button', { name: /^Take the pin off/u })
      .first()
      .waitFor();

    await press('Play', 200);
    await page.getByRole('heading', { name: 'Play', level: 1 }).waitFor();
    await press('Start');
    const cautions = page.getByRole('alertdialog', { name: 'Before you begin' });
    await cautions.waitFor();
    await press('Start');
    await page.getByText('thumb now').first().waitFor();
    // nothing but what the hands need
    expect(await page.getByRole('navigation').count()).toBe(0);
    await press('Stop');
    await press('Back to the programme');

    await press('Pages', 200);
    await page
      .getByRole('status')
      .filter({ hasText: /^\d+ pages?$/u })
      .waitFor();
    await tabTo(page, 'Save PDF');
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    expect(download.suggestedFilename()).toMatch(/\.pdf$/u);

    expect(elsewhere).toEqual([]);
    expect(errors).toEqual([]);
    await context.close();
  });

  test('settings open, keep the focus inside, close and give it back; the theme holds after a reload', async () => {
    const { page, context } = await workbench.visit({ colorScheme: 'light' });
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    await tabTo(page, 'Settings');
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog', { name: 'Settings' });
    await dialog.waitFor();
    await tabTo(page, 'Close');
    for (let presses = 0; presses < 12; presses++) {
      await page.keyboard.press('Tab');
      expect(await dialog.evaluate((element) => element.contains(document.activeElement))).toBe(true);
    }
    await dialog.getByRole('radio', { name: 'Like the system' }).focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    expect(await page.locator('html').getAttribute('data-theme')).toBe('dark');
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'hidden' });
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Settings');
    await page.reload();
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    expect(await page.locator('html').getAttribute('data-theme')).toBe('dark');
    await context.close();
  });

  test('the look round is heard, goes on by Enter, and Escape ends it for good', async () => {
    const { page, context } = await workbench.visit({ tour: true });
    const step = page.getByRole('dialog', { name: 'A look round' });
    await step.waitFor();
    await tabTo(page, 'Next');
    await page.keyboard.press('Enter');
    await step.getByText('2 of 7').waitFor();
    await page.keyboard.press('Escape');
    await step.waitFor({ state: 'hidden' });
    await page.reload();
    await page.getByRole('main', { name: 'Study' }).waitFor();
    expect(await step.count()).toBe(0);
    await context.close();
  });

  test('the focus goes on with whoever goes on: other places, other lessons, and what takes itself away', async () => {
    const { page, context } = await workbench.visit();
    await page.getByRole('main', { name: 'Study' }).waitFor();
    // opened, not gone to: a page begins at its top
    expect(await focused(page)).toBe('nothing');

    await page.getByRole('option', { name: /^bar 3, E flat major seven/u }).click();
    await page.getByRole('button', { name: 'Look at Lydian' }).press('Enter');
    await page.getByText('Nothing rubs in Lydian').waitFor();
    expect(await focused(page)).toMatch(/^Lydian/u);
    await page.getByRole('tab', { name: 'hand', exact: true }).click();
    await page.getByRole('button', { name: 'Back to what is used' }).press('Enter');
    expect(await focused(page)).toMatch(/^Thumb on/u);

    await page.getByRole('link', { name: 'Lessons', exact: true }).press('Enter');
    await page.getByRole('heading', { name: 'Lessons' }).waitFor();
    expect(await focused(page)).toBe('Lessons');
    await page.getByRole('button', { name: 'New chart' }).press('Enter');
    await page.getByRole('grid').waitFor();
    expect(await focused(page)).toMatch(/^Chart$|^(Chords of b|B)ar 1/u);

    await page.getByRole('link', { name: 'Lessons', exact: true }).press('Enter');
    await page.getByRole('button', { name: 'Paste a chart' }).press('Enter');
    await page.getByLabel('Chart text').fill('key: F major\n\n| Gm7 | C7 | Fmaj7 | % |');
    await page.getByRole('button', { name: 'Make the lesson' }).press('Enter');
    await page.getByRole('gridcell', { name: /^Bar 3, F major seven/u }).waitFor();
    await expect.poll(() => focused(page)).toMatch(/^Chart$|^(Chords of b|B)ar 1/u);

    await page.getByRole('link', { name: 'Play', exact: true }).press('Enter');
    await page.getByText(/^Ready/u).waitFor();
    await page.getByRole('button', { name: 'Start', exact: true }).press('Enter');
    await page.getByRole('alertdialog').getByRole('button', { name: 'Start' }).press('Enter');
    // who stops before the first stick is back at the programme at once
    await page.getByText('count-in').first().waitFor();
    await page.getByRole('button', { name: 'Stop', exact: true }).press('Enter');
    await page.getByRole('button', { name: 'Back to the programme' }).press('Enter');
    await page.getByRole('heading', { name: 'Play', level: 1 }).waitFor();
    expect(await focused(page)).not.toBe('nothing');
    await context.close();
  });

  test('the look round gives the focus back to where one was', async () => {
    const { page, context } = await workbench.visit({ tour: true });
    const step = page.getByRole('dialog', { name: 'A look round' });
    await step.waitFor();
    await page.keyboard.press('Escape');
    await step.waitFor({ state: 'hidden' });
    // nobody had been anywhere: the screen has it
    await expect.poll(() => focused(page)).toBe('Study');

    await page.getByRole('banner').getByRole('button', { name: 'Help', exact: true }).press('Enter');
    await page.getByRole('button', { name: 'Show me round again' }).press('Enter');
    await step.getByRole('button', { name: 'Next' }).press('Enter');
    await step.getByText('2 of 7').waitFor();
    await page.keyboard.press('Escape');
    await step.waitFor({ state: 'hidden' });
    await expect.poll(() => focused(page)).toBe('Help');
    await context.close();
  });

  test('a link leads past the head of the page, screens are reached and named, and note names follow the setting', async () => {
    const { page, context } = await workbench.visit();
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('MAIN');
    // a sign alone does nothing outside of a field (WCAG 2.2, 2.1.4: character key shortcuts)
    await page.keyboard.press('?');
    expect(await page.getByRole('dialog').count()).toBe(0);
    await page.keyboard.press('F1');
    await page.getByRole('dialog', { name: 'Help' }).waitFor();
    await page.keyboard.press('Escape');
    for (const screen of ['Chart', 'Study', 'Play', 'Pages'] as const) {
      await page.getByRole('navigation').getByRole('link', { name: screen, exact: true }).focus();
      await page.keyboard.press('Enter');
      await page.getByRole('main', { name: screen }).waitFor();
      expect(await page.title()).toContain(screen);
    }
    expect(await page.getByRole('banner').getByText('E♭ major').count()).toBe(1);
    await page.getByRole('banner').getByRole('button', { name: 'Settings' }).press('Enter');
    await page.getByRole('radio', { name: /German/u }).focus();
    await page.keyboard.press('Space');
    await page.keyboard.press('Escape');
    await page.getByRole('banner').getByText('Es major').waitFor();
    await context.close();
  });
});
