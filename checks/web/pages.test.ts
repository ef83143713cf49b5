/**
 * Source: issue 'The workbench': "preview the real PDF pages, choose contents, save PDF, MusicXML, MIDI, lesson file, WAV or MP3,
 * with progress and cancel"; "new lesson from pasted text to a saved PDF"; "names, titles and files from outside are text, never
 * markup"; "keyboard-only and screen-reader use of the whole main job"; "axe finds no WCAG 2.2 AA violation".
 */
import { unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { axeIn } from './axe.ts';
import { openPages, pagesAreShown, panel, savedBy } from './pages.ts';
import { sharedVisit } from '../shared-visit.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
}, 300_000);
afterAll(async () => {
  await workbench?.close();
});

/** How long a busy machine may take to a first sign. */
const WAIT = { timeout: 20_000 };

const text = (bytes: Uint8Array): string => new TextDecoder('latin1').decode(bytes);

/** The share of a page's pixels that are not paper. */
async function inkOf(page: Page, number: number): Promise<number> {
  return await page.locator(`[data-page="${number}"] canvas`).evaluate((element) => {
    const canvas = element as HTMLCanvasElement;
    const { data } = (canvas.getContext('2d') as CanvasRenderingContext2D).getImageData(
      0,
      0,
      canvas.width,
      canvas.height,
    );
    let ink = 0;
    for (let at = 0; at < data.length; at += 4) if ((data[at + 3] as number) > 0 && (data[at] as number) < 200) ink++;
    return ink / (data.length / 4);
  });
}

const visited = sharedVisit(() => workbench.visit({ kept: true }));

/** The pages screen of the demo lesson, or of one made of a chart, as one comes to it; nothing made before is listed. */
async function pages(chartText?: string): Promise<{ page: Page; errors: string[] }> {
  const { page, errors } = await visited();
  if (chartText === undefined) {
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('link', { name: 'Lantern Street' }).click();
  }
  await openPages(page, chartText);
  const made = page.getByRole('region', { name: 'Files' }).getByRole('button', { name: /^Close/u });
  while ((await made.count()) > 0) await made.first().click();
  return { page, errors };
}

describe.skipIf(NO_CHROMIUM)('pages and files', () => {
  test('the pages are drawn as they will be printed, and can be heard', async () => {
    const { page } = await pages();
    await expect.poll(async () => await inkOf(page, 1), WAIT).toBeGreaterThan(0.02);
    // a page of text and lines is not black either
    expect(await inkOf(page, 1)).toBeLessThan(0.4);
    const printed = page.getByRole('group', { name: 'The pages as they will be printed' });
    await printed.getByRole('heading', { name: 'Lantern Street' }).waitFor({ state: 'attached' });
    await printed.getByRole('heading', { name: 'Where the thumb goes' }).waitFor({ state: 'attached' });
    await printed
      .getByText(/rest five minutes in every half hour/iu)
      .first()
      .waitFor({ state: 'attached' });
    // each figure of the page says what it shows
    await printed
      .getByText(/thumb on/iu)
      .first()
      .waitFor({ state: 'attached' });
  });

  test('pages go to the printer whole, one a sheet', async () => {
    const { page } = await pages();
    // the dialog would wait for a person: what it would print is kept instead
    await page.evaluate(() => {
      globalThis.print = () => {
        const pictures = [...document.querySelectorAll<HTMLImageElement>('.printed-pages img')];
        document.body.dataset['printed'] = JSON.stringify(
          pictures.map(({ naturalWidth, naturalHeight, alt }) => [naturalWidth, naturalHeight, alt.length > 100]),
        );
      };
    });
    await page.getByRole('button', { name: 'Print' }).click();
    await expect.poll(async () => await page.locator('body').getAttribute('data-printed'), WAIT).not.toBeNull();
    const printed = JSON.parse((await page.locator('body').getAttribute('data-printed')) ?? '[]') as unknown[];
    // A4 at 300 dots to the inch: 210 × 297 mm (ISO 216) are 2480.3 × 3507.9
    expect(printed).toEqual(Array.from({ length: 3 }, () => [2480, 3507, true]));
    // some browsers come back from print() before they have printed: the pages stay until they say so
    await expect(page.locator('.printed-pages').count()).resolves.toBe(1);
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await page.locator('.printed-pages').waitFor({ state: 'detached' });
  });

  test('keyboard only', async () => {
    const { page } = await pages();
    const focused = (): Promise<string> =>
      page.evaluate(
        () => document.activeElement?.closest('label')?.textContent ?? document.activeElement?.textContent ?? '',
      );
    const goTo = async (what: RegExp): Promise<void> => {
      for (let step = 0; step < 60 && !what.test(await focused()); step++) await page.keyboard.press('Tab');
      expect(await focused()).toMatch(what);
    };
    await goTo(/^Study page/u);
    // past the one page that has everything
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await page
      .getByRole('group', { name: /printed/u })
      .getByText(/play page/u)
      .first()
      .waitFor();
    await goTo(/^Save PDF/u);
    const { name } = await savedBy(page, () => page.keyboard.press('Enter'));
    expect(name).toBe('lantern-street-E-flat-major-play.pdf');
  });

  test('another view, key and paper: the newest wish is shown', async () => {
    const { page } = await pages();
    const key = page.getByLabel('Key', { exact: true });
    for (const label of ['B♭ major', 'F major', 'D major']) await key.selectOption({ label });
    await page.getByRole('radio', { name: /^Play page/u }).check();
    await page.getByRole('radio', { name: 'One page' }).check();
    await page
      .getByRole('status')
      .filter({ hasText: /^1 page$/u })
      .waitFor();
    await page.getByRole('radio', { name: /^Play page/u }).check();
    await page.getByRole('radio', { name: 'Letter' }).check();
    await expect
      .poll(async () => {
        const said = await page.getByRole('group', { name: /printed/u }).innerText();
        return /D major/u.test(said) && /play page/u.test(said);
      }, WAIT)
      .toBe(true);
    const shape = await page.locator('[data-page="1"]').evaluate((element) => {
      const { width, height } = element.getBoundingClientRect();
      return height / width;
    });
    expect(shape).toBeCloseTo(11 / 8.5, 2);
  });

  test('a pack tells how far it is, can be stopped, and nothing is saved then', async () => {
    const { page } = await pages();
    let downloads = 0;
    page.on('download', () => downloads++);
    await panel(page, 'Several keys at once');
    await page.getByRole('radio', { name: 'All round' }).check();
    await page.getByRole('button', { name: 'Save 48 files in 12 keys' }).click();
    const bar = page.getByRole('progressbar', { name: 'Pack of 12 keys' });
    await expect.poll(async () => Number(await bar.getAttribute('value')), WAIT).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Stop: Pack of 12 keys' }).click();
    await page.getByRole('listitem').getByText('stopped; nothing was saved').waitFor();
    // the worker is free again: the next thing is made
    await panel(page, 'For other programs');
    await savedBy(page, () => page.getByRole('button', { name: 'Save MIDI' }).click());
    expect(downloads).toBe(1);
  });

  test('what a hand waits for gets in between while a pack is made', async () => {
    const { page } = await pages();
    await panel(page, 'Several keys at once');
    await page.getByRole('radio', { name: 'All round' }).check();
    await page.getByRole('button', { name: 'Save 48 files in 12 keys' }).click();
    const bar = page.getByRole('progressbar', { name: 'Pack of 12 keys' });
    await expect.poll(async () => Number(await bar.getAttribute('value')), WAIT).toBeGreaterThan(0);
    // another key to look at is shown long before the pack is done
    await page.getByLabel('Key', { exact: true }).selectOption({ label: 'G major' });
    await page
      .getByRole('group', { name: /printed/u })
      .getByText(/^G major/u)
      .first()
      .waitFor();
    await expect(bar.count()).resolves.toBe(1);
    await page.getByRole('button', { name: 'Stop: Pack of 12 keys' }).click();
    await page.getByRole('listitem').getByText('stopped; nothing was saved').waitFor();
  });

  test('the keys are kept with the lesson', async () => {
    const { page } = await pages();
    await panel(page, 'Several keys at once');
    await page.getByRole('radio', { name: 'All round' }).check();
    await page.getByLabel('By', { exact: true }).selectOption('whole steps up');
    for (const file of ['Play page (PDF)', 'Study page (PDF)', 'Notes (MusicXML)'])
      await page.getByRole('checkbox', { name: file }).uncheck();
    const { name, bytes } = await savedBy(page, () =>
      page.getByRole('button', { name: 'Save 6 files in 6 keys' }).click(),
    );
    expect(name).toBe('lantern-street.zip');
    const entries = unzipSync(bytes);
    // whole steps from E flat, as the keys are usually written: common practice
    expect(Object.keys(entries)).toEqual(
      ['E-flat', 'F', 'G', 'A', 'B', 'D-flat']
        .map((key) => `${key}-major/lantern-street-${key}-major-lesson.mid`)
        .concat('lesson.json'),
    );
    const document = JSON.parse(new TextDecoder().decode(entries['lesson.json'])) as { choices: { keys: string[] } };
    expect(document.choices.keys[1]).toBe('F major');
    await page.reload();
    await pagesAreShown(page);
    await panel(page, 'Several keys at once');
    await expect(page.getByRole('radio', { name: 'All round' }).isChecked()).resolves.toBe(true);
  });

  test('from pasted changes to a saved PDF, without an error', async () => {
    const { page, errors } = await pages('title: Slow Ferry\nkey: C minor\ntempo: 96\n\n| Dm7b5 | G7alt | Cm6 | % |');
    const { name, bytes } = await savedBy(page, () => page.getByRole('button', { name: 'Save PDF' }).click());
    expect(name).toBe('slow-ferry-C-minor-study.pdf');
    expect(text(bytes.subarray(0, 8))).toBe('%PDF-1.7');
    await page.getByRole('listitem').getByText(`saved as ${name}`).waitFor();
    expect(errors).toEqual([]);
  });

  test('a title is text, on the screen and in the names of files', async () => {
    const { page, errors } = await pages('title: ../<img src=x onerror=alert(1)>\n\n| Fm7 | Bb7 |');
    const { name, bytes } = await savedBy(page, () => page.getByRole('button', { name: 'Save PDF' }).click());
    expect(name).toMatch(/^[\p{L}\p{N}-]+-study\.pdf$/u);
    expect(text(bytes.subarray(0, 8))).toBe('%PDF-1.7');
    await expect(page.locator('img').count()).resolves.toBe(0);
    expect(errors).toEqual([]);
  });

  test('a chart with a wrong chord is printed without it, and the screen says so', async () => {
    const { page } = await pages('key: F major\n\n| Gm7 | Czz7 | Fmaj7 | Fmaj7 |');
    await page.getByText('Some of the chart cannot be read').waitFor();
    await savedBy(page, () => page.getByRole('button', { name: 'Save PDF' }).click());
  });

  test('sound tells how far it is and can be stopped', async () => {
    // three choruses of it last a quarter of an hour: long enough to be stopped
    const { page } = await pages(`key: F major\ntempo: 20\n\n${'| Gm7 | C7 | Fmaj7 | D7 '.repeat(6)}|`);
    await panel(page, 'Sound');
    await page.getByRole('button', { name: 'Save sound' }).click();
    const bar = page.getByRole('progressbar', { name: 'Sound, MP3' });
    await expect.poll(async () => Number(await bar.getAttribute('value')), WAIT).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Stop: Sound, MP3' }).click();
    await page.getByRole('listitem').getByText('stopped; nothing was saved').waitFor();
  });

  test('axe finds nothing wrong in either theme, on a phone', async () => {
    await (await visited()).page.setViewportSize({ width: 390, height: 844 });
    const { page } = await pages();
    for (const title of [
      'Choices for this lesson',
      'Several keys at once',
      'Sound',
      'For other programs',
      'The lesson itself',
    ])
      await panel(page, title);
    await page.getByRole('radio', { name: 'Chosen ones' }).check();
    await page.getByRole('radio', { name: 'Measured' }).check();
    await page.getByRole('button', { name: 'Save lesson file' }).click();
    await page.getByRole('listitem').getByText('saved as').waitFor();
    await pagesAreShown(page);
    for (const colorScheme of ['light', 'dark'] as const) {
      const { violations } = await (await axeIn(page, colorScheme)).analyze();
      expect(violations.map(({ id, nodes }) => [colorScheme, id, nodes[0]?.html])).toEqual([]);
    }
    // nothing is wider than the phone
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
