/**
 * Source: issue 'The workbench': WCAG 2.2 AA. Judge: axe-core (rules tagged WCAG 2.0 to 2.2, A and AA). What axe cannot decide is
 * printed, to be reviewed by hand.
 */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { judged } from './judged.ts';
import { goTo, SCREENS } from './screens.ts';
import { openFromHead, openWorkbench, type Workbench } from '../workbench.ts';

const THEMES = ['light', 'dark'] as const;

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

// one visit for both themes: each place is judged in the light one by every rule, in the dark one by its colours
describe.skipIf(NO_CHROMIUM)('axe finds nothing in either theme', () => {
  const open = { light: new Set<string>(), dark: new Set<string>() };
  let page: Page;
  beforeAll(async () => {
    ({ page } = await workbench.visit({ colorScheme: 'light', reducedMotion: 'reduce' }));
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
  });
  afterAll(async () => {
    // reviewed by hand: see docs/workbench.md
    for (const theme of THEMES) {
      process.stderr.write(`left to a person, ${theme}:\n  ${[...open[theme]].join('\n  ')}\n`);
    }
    await page.context().close();
  });

  const judge = async (place: string): Promise<void> => {
    for (const theme of THEMES.toReversed()) {
      const found = await judged(page, theme);
      for (const each of found.open) open[theme].add(`${place}: ${each}`);
      expect(found.wrong, `${place}, ${theme}`).toEqual([]);
    }
  };

  test.each(SCREENS)('on %s', async (screen) => {
    await goTo(page, screen);
    await judge(screen);
  });

  test('on the shelf of lessons', async () => {
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('heading', { name: 'Lessons' }).waitFor();
    await judge('Lessons');
    await page.goBack();
  });

  test.each(['Settings', 'Help'] as const)('in %s', async (name) => {
    await openFromHead(page, name);
    await page.getByRole('dialog', { name }).getByRole('heading').nth(1).waitFor();
    await judge(name);
    await page.keyboard.press('Escape');
    await page.getByRole('dialog', { name }).waitFor({ state: 'hidden' });
  });

  /** Opens a dialog, judges it and closes it again. */
  const judgeDialog = async (
    role: 'dialog' | 'alertdialog',
    name: string,
    open_: () => Promise<void>,
  ): Promise<void> => {
    await open_();
    const dialog = page.getByRole(role, { name });
    await dialog.waitFor();
    await judge(name);
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'hidden' });
  };

  test('in what lies over the shelf: a chart to paste, a backup to restore', async () => {
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('heading', { name: 'Lessons' }).waitFor();
    await judgeDialog('dialog', 'Paste a chart', async () => {
      await page.getByRole('button', { name: 'Paste a chart' }).click();
      // something right and something wrong: both are announced
      await page.getByLabel('Chart text').fill('key: F major\n\n| Gm7 | Czz7 | Fmaj7 |');
      await page.getByText(/to mend/u).waitFor();
    });
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Back up everything' }).click(),
    ]);
    await judgeDialog('dialog', 'Restore from a backup', async () => {
      const [chooser] = await Promise.all([
        page.waitForEvent('filechooser'),
        page.getByRole('button', { name: 'Restore from a backup' }).click(),
      ]);
      await chooser.setFiles(await download.path());
    });
    await page.goBack();
  });

  test('in the dialog that transposes', async () => {
    await goTo(page, 'Chart');
    await judgeDialog('dialog', 'In another key', () => page.getByRole('button', { name: 'In another key …' }).click());
  });

  test('in the cautions, and while the trio plays', async () => {
    await goTo(page, 'Play');
    await page.getByText(/^Ready/u).waitFor();
    const cautions = page.getByRole('alertdialog', { name: 'Before you begin' });
    await page.getByRole('button', { name: 'Start', exact: true }).click();
    await cautions.waitFor();
    await judge('Before you begin');
    await cautions.getByRole('button', { name: 'Start' }).click();
    await page.getByText('thumb now').first().waitFor();
    await judge('Play, playing');
    await page.getByRole('button', { name: 'Stop', exact: true }).press('Enter');
    await judge('Play, paused');
    await page.getByRole('button', { name: 'Back to the programme' }).press('Enter');
    await page.getByRole('heading', { name: 'Play', level: 1 }).waitFor();
  });

  test('on the look round', async () => {
    await goTo(page, 'Study');
    await openFromHead(page, 'Help');
    await page.getByRole('button', { name: 'Show me round again' }).click();
    const step = page.getByRole('dialog', { name: 'A look round' });
    await step.waitFor();
    await judge('A look round');
    // whoever looks round scrolls
    await page.mouse.wheel(0, 400);
    await page.mouse.wheel(0, -4000);
    await step.getByRole('button', { name: 'Skip' }).click();
  });
});
