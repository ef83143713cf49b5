/** Source: issue 'The lesson as a film': a moment at any time, scenes in order and in the teacher's words, progress, cancel, download. */
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openPages, panel, savedBy } from '../web/pages.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
}, 300_000);
afterAll(async () => {
  await workbench?.close();
});

/** The share of the picture's pixels that are ink. */
async function inkOf(page: Page): Promise<number> {
  return await page.getByRole('img', { name: 'A moment of the film' }).evaluate((element) => {
    const canvas = element as HTMLCanvasElement;
    const { data } = (canvas.getContext('2d') as CanvasRenderingContext2D).getImageData(
      0,
      0,
      canvas.width,
      canvas.height,
    );
    let ink = 0;
    for (let at = 0; at < data.length; at += 4) if ((data[at + 3] as number) > 0 && (data[at] as number) < 120) ink++;
    return ink / (data.length / 4);
  });
}

describe.skipIf(NO_CHROMIUM)('the film of a lesson', () => {
  test('is looked at, put in order, stopped, made and saved', async () => {
    const { page, errors } = await workbench.visit();
    await openPages(page, 'title: Slow Ferry\nkey: C minor\ntempo: 240\n\n| Dm7b5 | G7alt |');
    await panel(page, 'Film');
    const film = page
      .locator('details[open]')
      .filter({ has: page.getByRole('heading', { name: 'Film', exact: true }) });
    await film.getByText('0:00 of', { exact: false }).waitFor();
    await expect.poll(async () => await inkOf(page), { timeout: 90_000 }).toBeGreaterThan(0.002);

    // what is said goes into the picture and is kept with the lesson
    const idea = 'What you say: Idea: a chord, its scale, what rubs';
    await film.getByRole('textbox', { name: idea }).fill('First the colour.');
    await film.getByRole('button', { name: 'Earlier: Idea: a chord, its scale, what rubs' }).click();
    await film.getByLabel('About the chord').first().selectOption({ label: 'bar 2: G7alt' });
    await film.getByLabel('Seconds at least').first().fill('9');
    await film.getByText('The idea', { exact: false }).first().waitFor();
    if (process.env['FIVESPAN_SHOTS'] !== undefined)
      await page.screenshot({ path: process.env['FIVESPAN_SHOTS'], fullPage: true });
    const { violations } = await new AxeBuilder({ page }).include('details[open]').analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);

    await film.getByRole('checkbox', { name: 'Only what is played, no titles' }).check();
    await film.getByLabel('Size').selectOption('720');
    await film.getByRole('button', { name: 'Save film' }).click();
    await page.getByRole('button', { name: 'Stop: Film, C minor' }).click();
    await page.getByRole('listitem').getByText('stopped; nothing was saved').waitFor();
    const { name, bytes } = await savedBy(page, () => film.getByRole('button', { name: 'Save film' }).click());
    expect(name).toBe('slow-ferry-C-minor.mp4');
    expect(new TextDecoder('latin1').decode(bytes.subarray(4, 8))).toBe('ftyp');
    expect(bytes.length).toBeGreaterThan(50_000);
    expect(errors).toEqual([]);
  });
});
