/**
 * Source: issue 'The workbench': "Nothing is lost: every change stored on this machine as it is made, never before the stored
 * state was read; two tabs do not overwrite each other; a killed browser loses no acknowledged change; a full disk, refused
 * storage or a newer schema is reported and a file offered; every stored or imported thing is validated, old versions
 * migrate, and a damaged record is set aside, not deleted, while the rest opens." Changes are made as a teacher makes
 * them, in the chart's text.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Download, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, withChartText, type Workbench } from '../workbench.ts';
import { startChromium } from './killed-chromium.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

interface FoundRecord {
  readonly id: string;
  readonly document: string;
}

const chartOf = ({ document }: FoundRecord): string => (JSON.parse(document) as { chart: string }).chart;

/** The chart as text, where it is typed. */
function textOf(page: Page): Locator {
  return page.getByRole('textbox', { name: 'Text', exact: true });
}

/** The demo lesson's chart screen; its address, to open it elsewhere too. */
async function openDemo(page: Page): Promise<string> {
  await page.goto(`${workbench.url}#/lessons`);
  const href = await page.getByRole('link', { name: 'Lantern Street' }).getAttribute('href');
  const address = `${workbench.url}${(href ?? '').replace(/\/\w+$/u, '/chart')}`;
  await page.goto(address);
  await textOf(page).waitFor();
  return address;
}

/** Waits until the page says that the last change is on the disk. */
async function kept(page: Page): Promise<void> {
  await page.locator('[data-saving=saved]').waitFor({ state: 'attached' });
}

async function download(page: Page, press: Locator): Promise<string> {
  const [file] = await Promise.all([page.waitForEvent('download'), press.click()]);
  return await textOfDownload(file);
}

async function textOfDownload(file: Download): Promise<string> {
  return readFileSync(await file.path(), 'utf8');
}

/** What is in the database itself, whatever is shown. */
async function recordsOf(page: Page, table: 'lessons' | 'setAside' = 'lessons'): Promise<FoundRecord[]> {
  return await page.evaluate(
    (name) =>
      new Promise<FoundRecord[]>((resolve, reject) => {
        const request = indexedDB.open('fivespan');
        request.addEventListener('error', () => reject(request.error as DOMException));
        request.addEventListener('success', () => {
          const all = request.result.transaction(name).objectStore(name).getAll();
          all.addEventListener('success', () => {
            request.result.close();
            resolve(all.result as FoundRecord[]);
          });
        });
      }),
    table,
  );
}

/** Writes records into the database as a fault, or another program, might have. */
async function putRecords(page: Page, records: readonly object[]): Promise<void> {
  await page.evaluate(
    (all) =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('fivespan');
        request.addEventListener('error', () => reject(request.error as DOMException));
        request.addEventListener('success', () => {
          const change = request.result.transaction('lessons', 'readwrite');
          for (const record of all) change.objectStore('lessons').put(record);
          change.addEventListener('abort', () => reject(change.error as DOMException));
          change.addEventListener('complete', () => {
            request.result.close();
            resolve();
          });
        });
      }),
    records,
  );
}

/**
 * Lets a page's disk be full while the check says so: what is put is refused as the standard has it. (Chromium's own override of
 * the quota did not reach IndexedDB where this was written.) Source: Indexed Database API 3.0, 'put': QuotaExceededError.
 */
function fillDisk(): void {
  // oxlint-disable-next-line typescript/unbound-method -- called on its table below
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...order: Parameters<typeof put>) {
    if ((globalThis as { isFull?: boolean }).isFull === true) {
      throw new DOMException('no room', 'QuotaExceededError');
    }
    return put.apply(this, order);
  };
}

async function setFull(page: Page, isFull: boolean): Promise<void> {
  await page.evaluate((full) => {
    (globalThis as { isFull?: boolean }).isFull = full;
  }, isFull);
}

describe.skipIf(NO_CHROMIUM)('a killed browser', () => {
  test('loses no change that was called kept', async () => {
    const profile = mkdtempSync(join(tmpdir(), 'fivespan-profile-'));
    const lines = Array.from({ length: 12 }, (_, index) => index + 1);
    let address = '';
    let chrome = await startChromium(profile, withChartText);
    try {
      for (const round of [1, 2]) {
        const { page } = chrome;
        if (address === '') address = await openDemo(page);
        else await page.goto(address);
        await textOf(page).waitFor();
        for (const line of lines) {
          await textOf(page).press('Control+End');
          await page.keyboard.insertText(`\n# round ${round}, line ${line};`);
        }
        await kept(page);
        // and more, while the browser dies: what the page calls kept is noted out here
        let acknowledged = await textOf(page).inputValue();
        await page.exposeFunction('noteKept', (text: string) => {
          acknowledged = text;
        });
        await page.evaluate(() => {
          const { noteKept } = globalThis as unknown as { noteKept: (text: string) => Promise<void> };
          const area = document.activeElement as HTMLTextAreaElement;
          const look = (): void => {
            if (document.querySelector('[data-saving=saved]') !== null) void noteKept(area.value);
          };
          const seen = { subtree: true, childList: true, attributes: true, attributeFilter: ['data-saving'] };
          new MutationObserver(look).observe(document.body, seen);
        });
        const before = acknowledged.length;
        const typing = page.keyboard.type(`\n# ${'more and more '.repeat(60)}`, { delay: 2 }).catch(() => undefined);
        await expect.poll(() => acknowledged.length, { timeout: 15_000, interval: 20 }).toBeGreaterThan(before + 40);
        await chrome.kill();
        await typing;

        chrome = await startChromium(profile, withChartText);
        await chrome.page.goto(address);
        await textOf(chrome.page).waitFor();
        const text = await textOf(chrome.page).inputValue();
        expect(text).toContain('title: Lantern Street');
        expect(text.startsWith(acknowledged)).toBe(true);
        for (const line of lines) expect(text).toContain(`# round ${round}, line ${line};`);
      }
    } finally {
      await chrome.kill();
      rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
    }
  });
});

describe.skipIf(NO_CHROMIUM)('two tabs', () => {
  test('one follows the other at once', async () => {
    const { page: one, context, errors } = await workbench.visit({ chartText: true });
    const address = await openDemo(one);
    const other = await context.newPage();
    await other.goto(address);
    await textOf(other).waitFor();
    await textOf(one).fill('title: From One\n\n| Fm7 | Bb7 |\n');
    await expect.poll(() => textOf(other).inputValue()).toContain('title: From One');
    await textOf(other).fill('title: From The Other\n\n| Dm7 | G7 |\n');
    await expect.poll(() => textOf(one).inputValue()).toContain('title: From The Other');
    await kept(one);
    await kept(other);
    expect((await recordsOf(one)).map(chartOf)).toEqual(['title: From The Other\n\n| Dm7 | G7 |\n']);

    // the shelf of another tab follows too; a lesson removed there is reported here
    await other.goto(`${workbench.url}#/lessons`);
    await other.getByRole('button', { name: 'More for ‘From The Other’', exact: true }).click();
    await other.getByRole('menuitem', { name: 'Remove' }).click();
    await one.getByText('This lesson was removed in another tab.').waitFor();
    await one.getByRole('button', { name: 'Put it back' }).click();
    await kept(one);
    await other.getByRole('link', { name: 'From The Other' }).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  test('where both changed, nothing is written over, and both can be kept', async () => {
    const { page: one, context } = await workbench.visit({ chartText: true });
    const address = await openDemo(one);
    const other = await context.newPage();
    await other.addInitScript(fillDisk);
    await other.goto(address);
    await textOf(other).waitFor();
    await setFull(other, true);
    await textOf(other).fill('title: Written Here\n\n| Em7 | A7 |\n');
    await other.getByText('There is no room left').waitFor();
    await textOf(one).fill('title: Written There\n\n| Am7 | D7 |\n');
    await kept(one);
    // what is not kept here is not followed away
    expect(await textOf(other).inputValue()).toContain('Written Here');
    await setFull(other, false);
    await other.getByRole('button', { name: 'Try again' }).click();
    await other.getByText('changed in another tab while you changed it here').waitFor();
    expect((await recordsOf(one)).map(chartOf)).toEqual(['title: Written There\n\n| Am7 | D7 |\n']);
    await other.getByRole('button', { name: 'Keep both, this one as a new lesson' }).click();
    await expect
      .poll(async () => (await recordsOf(one)).map(chartOf).sort())
      .toEqual(['title: Written Here (second)\n\n| Em7 | A7 |\n', 'title: Written There\n\n| Am7 | D7 |\n']);
    // and it goes on as the new lesson
    await textOf(other).fill('title: Mine Alone\n\n| Em7 |\n');
    await kept(other);
    expect(await textOf(one).inputValue()).toContain('Written There');
    await context.close();
  });
});

describe.skipIf(NO_CHROMIUM)('where things cannot be kept', () => {
  test('a full disk is told, the lesson offered as a file, and kept once there is room', async () => {
    const context = await workbench.browser.newContext();
    await context.addInitScript(withChartText);
    await context.addInitScript(fillDisk);
    const page = await context.newPage();
    await openDemo(page);
    await setFull(page, true);
    const long = `title: No Room\n\n| Fm7 | Bb7 |\n# ${'words '.repeat(20_000)}\n`;
    await textOf(page).fill(long);
    await page.getByText('There is no room left').waitFor();
    const file = await download(page, page.getByRole('button', { name: 'Save the lesson as a file' }));
    expect(chartOf({ id: '', document: file })).toBe(long);
    // what was kept before is as it was
    expect((await recordsOf(page)).map(chartOf)).toEqual([
      readFileSync(join(import.meta.dirname, '../../examples/DEMO.chart'), 'utf8'),
    ]);
    // left and taken up again, it is still there
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('heading', { name: 'Not kept' }).waitFor();
    await page.getByRole('link', { name: 'Open', exact: true }).click();
    await expect.poll(() => textOf(page).inputValue()).toBe(long);
    await setFull(page, false);
    await page.getByRole('button', { name: 'Try again' }).click();
    await kept(page);
    expect((await recordsOf(page)).map(chartOf)).toEqual([long]);
    await context.close();
  });

  test.each([
    [
      'no database',
      () => {
        Object.defineProperty(globalThis, 'indexedDB', { value: undefined });
      },
    ],
    [
      'a database that is refused',
      () => {
        IDBFactory.prototype.open = () => {
          throw new DOMException('not allowed', 'SecurityError');
        };
      },
    ],
  ])('%s: it is told, one can work all the same, and save a file', async (_name, refuse) => {
    const context = await workbench.browser.newContext();
    await context.addInitScript(withChartText);
    await context.addInitScript(refuse);
    const page = await context.newPage();
    await page.goto(`${workbench.url}#/lessons`);
    await page.getByText('This browser allows nothing to be kept here').waitFor();
    await page.getByRole('button', { name: 'New chart' }).click();
    await textOf(page).fill('title: In Memory\n\n| Fm7 |\n');
    // what is not kept does not look as if it were
    await page.locator('[data-saving=fault]').waitFor();
    const file = await download(page, page.getByRole('button', { name: 'Save the lesson as a file' }));
    expect(chartOf({ id: '', document: file })).toBe('title: In Memory\n\n| Fm7 |\n');
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('link', { name: 'In Memory' }).click();
    await page.waitForURL(/#\/lesson\//u);
    await context.close();
  });

  test('a newer version’s database is told, not touched, and offered as a file', async () => {
    const { page, context } = await workbench.visit({ chartText: true });
    await openDemo(page);
    const before = await recordsOf(page);
    // the same place without the program, as a newer one might leave it
    await page.goto(`${workbench.url}icon.svg`);
    const upgrade = (): Promise<number> =>
      page.evaluate(
        () =>
          new Promise<number>((resolve, reject) => {
            const request = indexedDB.open('fivespan', 50);
            request.addEventListener('error', () => reject(request.error as DOMException));
            request.addEventListener('success', () => {
              const { version } = request.result;
              request.result.close();
              resolve(version);
            });
          }),
      );
    await upgrade();
    await page.goto(`${workbench.url}#/lessons`);
    await page.getByText('A newer Fivespan has written').waitFor();
    const file = await download(page, page.getByRole('button', { name: 'Save what lies here as a file' }));
    expect(JSON.parse(file)).toEqual(before);
    await page.getByRole('button', { name: 'New chart' }).click();
    await textOf(page).fill('title: Meanwhile\n\n| Fm7 |\n');
    await page.locator('[data-saving=fault]').waitFor();
    await page.goto(`${workbench.url}icon.svg`);
    expect(await upgrade()).toBe(50);
    expect(await recordsOf(page)).toEqual(before);
    await context.close();
  });
});

describe.skipIf(NO_CHROMIUM)('what is found', () => {
  test('a damaged record is set aside and can be saved; a newer one is left; the rest opens', async () => {
    const { page, context, errors } = await workbench.visit({ chartText: true });
    await openDemo(page);
    const [demo] = await recordsOf(page);
    const document = demo?.document ?? '';
    const damaged = { ...demo, id: 'damaged', title: 'Torn Page', document: document.slice(0, 200) };
    const newer = { ...demo, id: 'newer', title: 'From Tomorrow', schema: 99 };
    await putRecords(page, [damaged, newer, { id: 'nothing' }]);
    await page.goto(`${workbench.url}#/lessons`);
    await page.reload();
    await page.getByRole('heading', { name: 'Set aside' }).waitFor();
    await page.getByRole('link', { name: 'Lantern Street' }).waitFor();
    const torn = page.getByRole('listitem').filter({ hasText: 'Torn Page' });
    expect(await download(page, torn.getByRole('button', { name: 'Save as a file' }))).toBe(document.slice(0, 200));
    const tomorrow = page.getByRole('listitem').filter({ hasText: 'From Tomorrow' });
    expect(await download(page, tomorrow.getByRole('button', { name: 'Save as a file' }))).toBe(document);
    expect(await recordsOf(page, 'setAside')).toHaveLength(2);
    expect((await recordsOf(page)).find(({ id }) => id === 'newer')).toEqual(newer);
    // saved elsewhere, it can be dropped here; before, it could not
    expect(await page.getByRole('button', { name: /^Drop/u }).count()).toBe(1);
    await torn.getByRole('button', { name: /^Drop/u }).click();
    await torn.waitFor({ state: 'detached' });
    expect(await recordsOf(page, 'setAside')).toHaveLength(1);
    // opened by its address
    await page.goto(`${workbench.url}#/lesson/newer/chart`);
    await page.getByText('This lesson was made by a newer Fivespan').waitFor();
    await putRecords(page, [{ ...damaged, id: 'again' }]);
    await page.goto(`${workbench.url}#/lesson/again/chart`);
    await page.getByText('It was set aside as it was found').waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });

  test('a lesson that another music engine made is told before its music changes', async () => {
    const { page, context, errors } = await workbench.visit({ chartText: true });
    await openDemo(page);
    const [demo] = await recordsOf(page);
    const document = (demo?.document ?? '').replace(/"engine": \d+/u, '"engine": 4096');
    await putRecords(page, [{ ...demo, id: 'other-engine', document }]);
    await page.goto(`${workbench.url}#/lesson/other-engine/chart`);
    await page.getByText('made by another version of the music engine').waitFor();
    expect((await recordsOf(page)).find(({ id }) => id === 'other-engine')?.document).toBe(document);
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText('made by another version of the music engine').waitFor({ state: 'detached' });
    await kept(page);
    expect((await recordsOf(page)).find(({ id }) => id === 'other-engine')?.document).toBe(demo?.document);
    expect(errors).toEqual([]);
    await context.close();
  });

  test('where the browser promises nothing, a backup is called wise; it is asked once', async () => {
    const context = await workbench.browser.newContext();
    await context.addInitScript(withChartText);
    await context.addInitScript(() => {
      const storage = navigator.storage as { persisted: unknown; persist: unknown };
      storage.persisted = async () => false;
      storage.persist = async () => {
        localStorage.setItem('asked', String(Number(localStorage.getItem('asked') ?? '0') + 1));
        return false;
      };
    });
    const page = await context.newPage();
    await page.goto(`${workbench.url}#/lessons`);
    await page.getByRole('link', { name: 'Lantern Street' }).waitFor();
    expect(await page.getByText('may clear them').count()).toBe(0);
    for (const _ of [1, 2]) {
      await page.getByRole('button', { name: 'New chart' }).click();
      await textOf(page).waitFor();
      await page.getByRole('link', { name: 'Lessons', exact: true }).click();
      await page.getByText('may clear them').waitFor();
      await page.reload();
    }
    expect(await page.evaluate(() => localStorage.getItem('asked'))).toBe('1');
    await context.close();
  });
});
