/**
 * Sources: issue 'The workbench': "Their lessons: new from an empty chart, from pasted chart text, from a dropped MusicXML or
 * lesson file; find, sort, rename, duplicate, remove with undo; back up everything to one file and restore it (merge or replace,
 * shown before it happens)." The MusicXML that is dropped is written here by hand, after the MusicXML 4.0 tutorial of the W3C
 * Music Notation Community Group ('Chord Symbols').
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const PASTED = 'title: Harbour Steps\nkey: F major\ntempo: 96\n\n| Gm7 | C7 | Fmaj7 | % |\n';

const MUSICXML = `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
  <work><work-title>Copper Rain</work-title></work>
  <part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list>
  <part id="P1">
    <measure number="1">
      <attributes><divisions>1</divisions><key><fifths>-1</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
      <harmony><root><root-step>G</root-step></root><kind text="m7">minor-seventh</kind></harmony>
      <note><rest measure="yes"/><duration>4</duration></note>
    </measure>
    <measure number="2">
      <harmony><root><root-step>C</root-step></root><kind text="7">dominant</kind></harmony>
      <note><rest measure="yes"/><duration>4</duration></note>
    </measure>
  </part>
</score-partwise>
`;

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

/** The lessons screen of a fresh profile: the demo is on the shelf. */
async function visitShelf(): Promise<{ page: Page; errors: string[]; close: () => Promise<void> }> {
  const { page, context, errors } = await workbench.visit();
  await page.goto(`${workbench.url}#/lessons`);
  await page.getByRole('link', { name: 'Lantern Street' }).waitFor();
  return { page, errors, close: () => context.close() };
}

/** Every lesson's title, the one gone on with first, then the shelf's in its order. */
async function titlesOf(page: Page): Promise<string[]> {
  return await page.locator('main a[data-title]').allTextContents();
}

async function paste(page: Page, text: string): Promise<void> {
  await page.getByRole('button', { name: 'Paste a chart' }).click();
  await page.getByLabel('Chart text').fill(text);
  await page.getByRole('button', { name: 'Make the lesson' }).click();
  await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
}

async function toShelf(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Lessons', exact: true }).click();
  await page.getByRole('button', { name: 'New chart' }).waitFor();
}

async function textOfDownload(download: Download): Promise<string> {
  return readFileSync(await download.path(), 'utf8');
}

async function backup(page: Page): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Back up everything' }).click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^fivespan-backup-\d{4}-\d\d-\d\d\.json$/u);
  return await textOfDownload(download);
}

/** Does something with a lesson from its menu. */
async function act(page: Page, title: string, what: string): Promise<void> {
  await page.getByRole('button', { name: `More for ‘${title}’`, exact: true }).click();
  await page.getByRole('menuitem', { name: what, exact: true }).click();
}

async function rename(page: Page, title: string, to: string): Promise<void> {
  await act(page, title, 'Rename');
  await page.getByRole('textbox', { name: 'Title' }).fill(to);
  await page.keyboard.press('Enter');
  await page.getByRole('link', { name: to, exact: true }).waitFor();
  // the field is gone: one is where one was
  await page
    .locator(':focus')
    .and(page.getByRole('button', { name: `More for ‘${to}’`, exact: true }))
    .waitFor();
}

async function openFile(page: Page, button: string, name: string, content: string | Buffer): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: button }).click(),
  ]);
  await chooser.setFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) });
}

describe.skipIf(NO_CHROMIUM)('their lessons', () => {
  test('a new lesson from an empty chart, and from pasted text', async () => {
    const { page, errors, close } = await visitShelf();
    // nothing is written in the first one: it is not kept
    await page.getByRole('button', { name: 'New chart' }).click();
    await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
    await page.locator('[data-bar="0"]:focus').waitFor();
    await toShelf(page);
    await expect.poll(() => titlesOf(page)).toEqual(['Lantern Street']);
    // the second takes what is typed at once, and its key is found
    await page.getByRole('button', { name: 'New chart' }).click();
    await page.locator('[data-bar="0"]:focus').waitFor();
    await page.keyboard.type('Gm7|C7|Fmaj7');
    await page.keyboard.press('Enter');
    await page.getByRole('gridcell', { name: /^Bar 3, F major seven/u }).waitFor();
    await page.getByText('found: F major').waitFor({ state: 'attached' });
    await toShelf(page);
    await page.getByRole('button', { name: 'Paste a chart' }).click();
    await page.getByLabel('Chart text').fill('title: Half\n| Fm7 | Hx9 |');
    // what is wrong, where and what would be right, before it is made
    await page
      .getByRole('dialog')
      .getByText(/line 2/u)
      .first()
      .waitFor();
    await page.getByLabel('Chart text').fill(PASTED);
    await page.getByRole('dialog').getByText('4 bars, F major').waitFor();
    await page.getByRole('button', { name: 'Make the lesson' }).click();
    await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
    await toShelf(page);
    await page.getByRole('link', { name: 'Harbour Steps' }).waitFor();
    expect(await titlesOf(page)).toEqual(['Harbour Steps', 'New lesson', 'Lantern Street']);
    expect(errors).toEqual([]);
    await close();
  });

  test('renamed, duplicated, removed and put back', async () => {
    const { page, errors, close } = await visitShelf();
    await paste(page, PASTED);
    await toShelf(page);
    // one Practise, on the lesson one goes on with
    const goOn = page.getByRole('region', { name: 'Go on with ‘Harbour Steps’' });
    expect(await page.getByRole('link', { name: 'Practise' }).count()).toBe(1);
    expect(await goOn.getByRole('link', { name: 'Practise' }).getAttribute('href')).toMatch(/\/play$/u);
    await rename(page, 'Harbour Steps', 'Ångström <b>Pier</b>');
    // only the title line has changed
    const kept = JSON.parse(await backup(page)) as { lessons: { document: string }[] };
    const charts = kept.lessons.map(({ document }) => (JSON.parse(document) as { chart: string }).chart);
    expect(charts).toContain(PASTED.replace('Harbour Steps', 'Ångström <b>Pier</b>'));

    await act(page, 'Lantern Street', 'Duplicate');
    await page.getByRole('link', { name: 'Lantern Street (copy)' }).waitFor();
    await act(page, 'Lantern Street', 'Remove');
    await page.getByText('‘Lantern Street’ was removed.').waitFor();
    expect(await titlesOf(page)).toEqual(['Ångström <b>Pier</b>', 'Lantern Street (copy)']);
    // it stays removed, and the demo does not come back by itself
    await page.getByRole('button', { name: 'Put back' }).click();
    await page.getByRole('link', { name: 'Lantern Street', exact: true }).waitFor();
    await act(page, 'Lantern Street', 'Remove');
    await page.getByText('‘Lantern Street’ was removed.').waitFor();
    await page.reload();
    await page.getByRole('link', { name: 'Lantern Street (copy)' }).waitFor();
    expect(await titlesOf(page)).not.toContain('Lantern Street');
    await page.getByRole('button', { name: 'Put the demo lesson back' }).click();
    await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
    expect(errors).toEqual([]);
    await close();
  });

  test('from ten on looked for; in folders, in the order of a hand, with keys alone; all of it in a backup', async () => {
    const { page, errors, close } = await visitShelf();
    const tunes = Array.from({ length: 9 }, (_, index) => ({
      name: `${index}.chart`,
      mimeType: 'text/plain',
      buffer: Buffer.from(`title: ${index === 4 ? 'Ångström' : `Tune ${index}`}\nkey: F major\n\n| Gm7 | C7 |\n`),
    }));
    const [chooser] = await Promise.all([
      page.waitForEvent('filechooser'),
      page.getByRole('button', { name: 'Open a file' }).click(),
    ]);
    expect(await page.getByLabel('Find').count()).toBe(0);
    await chooser.setFiles(tunes);
    await page.getByText('9 lessons were made:').waitFor();
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    await page.getByLabel('Find').fill('angstrom');
    await expect.poll(() => titlesOf(page)).toEqual(['Ångström']);
    await page.getByLabel('Find').fill('');

    await page.getByLabel('Order').selectOption('by title');
    await expect
      .poll(() => titlesOf(page))
      .toEqual(['Ångström', 'Lantern Street', ...[0, 1, 2, 3, 5, 6, 7, 8].map((each) => `Tune ${each}`)]);
    // by the keyboard alone: its menu, the third row from its end, and the focus is where it was
    const more = page.getByRole('button', { name: 'More for ‘Tune 0’' });
    await more.press('Enter');
    await page.getByRole('menuitem', { name: 'Practise' }).and(page.locator(':focus')).waitFor();
    for (const key of ['End', 'ArrowUp', 'ArrowUp', 'Enter']) await page.keyboard.press(key);
    await page.getByText('ordered by hand').waitFor();
    await expect.poll(async () => (await titlesOf(page)).slice(0, 3)).toEqual(['Ångström', 'Tune 0', 'Lantern Street']);
    await more.and(page.locator(':focus')).waitFor();

    await act(page, 'Tune 3', 'Folder …');
    await page.getByRole('textbox', { name: /^Folder/u }).fill('Mondays');
    await page.keyboard.press('Enter');
    const folders = page.getByRole('group', { name: 'Folders' });
    await folders.getByRole('button', { name: 'Mondays' }).click();
    await expect.poll(() => titlesOf(page)).toEqual(['Tune 3']);
    const saved = JSON.parse(await backup(page)) as { arrangement: { order: string; folders: object } };
    expect(saved.arrangement.order).toBe('hand');
    expect(Object.values(saved.arrangement.folders)).toEqual(['Mondays']);
    // dragged, too
    await folders.getByRole('button', { name: 'All' }).click();
    const covers = page.getByRole('list', { name: 'Lessons on the shelf' }).getByRole('listitem');
    await covers.nth(2).dragTo(covers.nth(0), { targetPosition: { x: 20, y: 40 } });
    await expect.poll(async () => (await titlesOf(page)).slice(0, 3)).toEqual(['Lantern Street', 'Ångström', 'Tune 0']);
    expect(errors).toEqual([]);
    await close();
  });

  test('a MusicXML lead sheet, dropped on the page', async () => {
    const { page, errors, close } = await visitShelf();
    const files = await page.evaluateHandle((text) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([text], 'copper.musicxml'));
      return transfer;
    }, MUSICXML);
    await page.dispatchEvent('body', 'dragenter', { dataTransfer: files });
    await page.getByText('Let go').waitFor();
    await page.dispatchEvent('body', 'drop', { dataTransfer: files });
    await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
    await toShelf(page);
    const row = page.getByRole('region', { name: 'Go on with ‘Copper Rain’' });
    await row.getByText('F major').waitFor();
    await row.getByText('Gm7').waitFor();
    expect(errors).toEqual([]);
    await close();
  });

  test('a lesson file, with its choices; a chart as text', async () => {
    const { page, errors, close } = await visitShelf();
    const demo = JSON.parse(await backup(page)) as { lessons: { document: string }[] };
    const document = demo.lessons[0]?.document ?? '';
    const other = document.replace('Lantern Street', 'From A File').replace('"seed": 1', '"seed": 77');
    await openFile(page, 'Open a file', 'lesson.json', other);
    await page.waitForURL(/#\/lesson\/[\w-]+\/study/u);
    await toShelf(page);
    // opened twice it is said, and nothing is added
    await openFile(page, 'Open a file', 'lesson.json', other);
    await page.getByText('is here already, the same chart and choices. Nothing was added').waitFor();
    expect((await titlesOf(page)).filter((title) => title === 'From A File')).toHaveLength(1);
    await page.getByRole('button', { name: 'Done', exact: true }).click();
    const kept = JSON.parse(await backup(page)) as { lessons: { document: string }[] };
    // byte for byte the file that came in
    expect(kept.lessons.map((each) => each.document)).toContain(other);
    const chart = readFileSync(join(import.meta.dirname, '../../examples/harbour-blues.chart'));
    await openFile(page, 'Open a file', 'harbour-blues.chart', chart);
    await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
    await toShelf(page);
    await page.getByRole('link', { name: 'Harbour Blues' }).waitFor();
    expect(errors).toEqual([]);
    await close();
  });

  test('everything backed up, merged and replaced, shown before it happens, and taken back', async () => {
    const { page, errors, close } = await visitShelf();
    await paste(page, PASTED);
    await toShelf(page);
    const saved = await backup(page);

    // afterwards: one renamed (differs), one new here, one removed (in the file only)
    await rename(page, 'Harbour Steps', 'Copper Ferry');
    await act(page, 'Copper Ferry', 'Duplicate');
    await page.getByRole('link', { name: 'Copper Ferry (copy)' }).waitFor();
    await page.getByLabel('Order').selectOption('by title');
    await expect.poll(() => titlesOf(page)).toEqual(['Copper Ferry', 'Copper Ferry (copy)', 'Lantern Street']);
    await act(page, 'Lantern Street', 'Remove');
    await page.getByText('‘Lantern Street’ was removed.').waitFor();
    const before = ['Copper Ferry', 'Copper Ferry (copy)'];
    expect(await titlesOf(page)).toEqual(before);

    await openFile(page, 'Restore from a backup', 'backup.json', saved);
    const dialog = page.getByRole('dialog');
    await dialog.getByText('1 not here yet · 0 the same · 1 different').waitFor();
    expect(await dialog.locator('[data-standing=differs]').textContent()).toContain('Harbour Steps');
    // nothing has happened yet
    await dialog.getByRole('button', { name: 'Cancel' }).click();
    expect(await titlesOf(page)).toEqual(before);

    await openFile(page, 'Restore from a backup', 'backup.json', saved);
    await dialog.getByRole('button', { name: 'Merge' }).click();
    await page.getByText('Restored: 2 lessons came').waitFor();
    expect(await titlesOf(page)).toEqual([...before, 'Harbour Steps', 'Lantern Street']);

    await openFile(page, 'Restore from a backup', 'backup.json', saved);
    await dialog.getByText('Removes').waitFor();
    await dialog.getByRole('button', { name: 'Replace everything' }).click();
    await page.getByText(/Restored: .* went/u).waitFor();
    expect(await titlesOf(page)).toEqual(['Harbour Steps', 'Lantern Street']);
    // exactly what was saved
    const now = JSON.parse(await backup(page)) as { lessons: unknown[] };
    expect(now.lessons).toEqual((JSON.parse(saved) as { lessons: unknown[] }).lessons);

    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByRole('link', { name: 'Copper Ferry (copy)' }).waitFor();
    expect(await titlesOf(page)).toEqual([...before, 'Harbour Steps', 'Lantern Street']);
    expect(errors).toEqual([]);
    await close();
  });

  test('where the music cannot be computed it is told, not waited for, and computed once it can be', async () => {
    const { page, errors, close } = await visitShelf();
    // what is asked of the worker is spoilt on its way
    await page.evaluate(() => {
      const page_ = globalThis as { isSpoilt?: boolean };
      page_.isSpoilt = true;
      // oxlint-disable-next-line typescript/unbound-method -- called on its worker below
      const { postMessage } = Worker.prototype;
      Worker.prototype.postMessage = function (this: Worker, message: { job?: string }) {
        const isSpoilt = page_.isSpoilt === true && message.job === 'make lesson';
        Reflect.apply(postMessage, this, [isSpoilt ? { ...message, order: null } : message]);
      };
    });
    await page.getByRole('link', { name: 'Lantern Street' }).click();
    const told = page.getByRole('alert').filter({ hasText: 'could not be computed' });
    await told.waitFor();
    await page.evaluate(() => {
      (globalThis as { isSpoilt?: boolean }).isSpoilt = false;
    });
    await told.getByRole('button', { name: 'Try again' }).click();
    await told.waitFor({ state: 'detached' });
    await page.getByText('Reading the chart …').waitFor({ state: 'detached' });
    expect(errors).toEqual([]);
    await close();
  });

  test('a restore taken back leaves alone what was made and changed since, and shows what differs', async () => {
    const { page, errors, close } = await visitShelf();
    const saved = await backup(page);
    await rename(page, 'Lantern Street', 'Lantern Lane');
    await openFile(page, 'Restore from a backup', 'backup.json', saved);
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('button', { name: 'Replace everything' }).click();
    await page.getByText('Restored: 1 lesson came').waitFor();
    await rename(page, 'Lantern Street', 'Lantern Lane');
    await act(page, 'Lantern Lane', 'Duplicate');
    await page.getByRole('link', { name: 'Lantern Lane (copy)' }).waitFor();
    // as it was before is as it is now: nothing to do, and the copy stays
    await page.getByRole('button', { name: 'Take it back' }).click();
    await page.getByText('Taken back.').waitFor();
    expect((await titlesOf(page)).sort()).toEqual(['Lantern Lane', 'Lantern Lane (copy)']);

    await openFile(page, 'Restore from a backup', 'backup.json', saved);
    await dialog.getByRole('radio', { name: 'take the one in the file' }).check();
    await dialog.getByRole('button', { name: 'Merge' }).click();
    await page.getByText('Restored: 1 lesson came').waitFor();
    await rename(page, 'Lantern Street', 'Lantern Row');
    await page.getByRole('button', { name: 'Take it back' }).click();
    await dialog.getByRole('heading', { name: 'Changed since they were restored' }).waitFor();
    expect(await dialog.locator('[data-standing=differs]').textContent()).toContain('Lantern Lane');
    expect(await dialog.getByRole('button', { name: 'Replace everything' }).count()).toBe(0);
    // left, nothing is lost: it can be asked for again
    await dialog.getByRole('button', { name: 'Cancel' }).click();
    await page.getByRole('button', { name: 'Take it back' }).click();
    await dialog.getByRole('button', { name: 'Go on' }).click();
    await page.getByRole('link', { name: 'Lantern Row' }).waitFor();
    await dialog.waitFor({ state: 'detached' });
    await page.getByRole('link', { name: 'Lantern Lane', exact: true }).waitFor();
    expect((await titlesOf(page)).sort()).toEqual(['Lantern Lane', 'Lantern Lane (copy)', 'Lantern Row']);
    expect(errors).toEqual([]);
    await close();
  });
});
