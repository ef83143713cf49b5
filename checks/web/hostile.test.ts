/**
 * Source: issue 'The workbench', "Checks": hostile imports (script in a title, 200 MB file, zip bomb, truncated); "names, titles
 * and files from outside are text, never markup; size and time limits on imports".
 */
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
const folder = mkdtempSync(join(tmpdir(), 'fivespan-hostile-'));
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  rmSync(folder, { recursive: true, force: true });
  await workbench.close();
});

/** Would run if any of it were taken for markup. */
const SCRIPT = `<img src=x onerror="globalThis.wasRun=1"><script>globalThis.wasRun=1</script>`;
const escape = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

const scoreOf = (title: string, part: string, words = ''): string => `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><work><work-title>${escape(title)}</work-title></work>
<part-list><score-part id="P1"><part-name>${escape(part)}</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
${words}<harmony><root><root-step>G</root-step></root><kind text="m7">minor-seventh</kind></harmony>
<note><rest measure="yes"/><duration>4</duration></note></measure></part></score-partwise>`;

async function take(page: Page, ...files: (string | { name: string; content: string | Uint8Array })[]): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a file' }).click(),
  ]);
  const paths = files.map((file) => {
    if (typeof file === 'string') return file;
    const path = join(folder, file.name);
    writeFileSync(path, file.content);
    return path;
  });
  await chooser.setFiles(paths);
}

/** Notes how much of a file the page asks for at once, whichever way it reads; a file that is sent elsewhere counts as a whole. */
function noteReads(): void {
  const noted = globalThis as { largestRead?: number };
  const note = (what: unknown): void => {
    if (what instanceof Blob) noted.largestRead = Math.max(noted.largestRead ?? 0, what.size);
  };
  const watch = (of: object, name: string, told: (self: unknown, order: readonly unknown[]) => unknown): void => {
    const read = (of as Record<string, unknown>)[name];
    if (typeof read !== 'function') return;
    (of as Record<string, unknown>)[name] = function (this: unknown, ...order: unknown[]): unknown {
      note(told(this, order));
      return Reflect.apply(read, this, order);
    };
  };
  for (const name of ['arrayBuffer', 'bytes', 'text', 'stream']) watch(Blob.prototype, name, (self) => self);
  for (const name of ['readAsArrayBuffer', 'readAsText', 'readAsDataURL', 'readAsBinaryString']) {
    watch(FileReader.prototype, name, (_self, [file]) => file);
  }
  watch(Worker.prototype, 'postMessage', (_self, [message]) =>
    [message, ...Object.values((message ?? {}) as object)].find((each) => each instanceof Blob),
  );
  watch(URL, 'createObjectURL', (_self, [file]) => file);
}

async function visitShelf(): Promise<{ page: Page; errors: string[]; close: () => Promise<void> }> {
  const { page, context, errors } = await workbench.visit();
  await page.goto(`${workbench.url}#/lessons`);
  await page.getByRole('link', { name: 'Lantern Street' }).waitFor();
  return { page, errors, close: () => context.close() };
}

/** What was told of files, and that nothing was made of them. */
async function refusalOf(page: Page): Promise<string> {
  const told = page.getByRole('status').filter({ hasText: 'could not be used' });
  await told.waitFor();
  expect(await page.locator('main a[data-title]').allTextContents()).toEqual(['Lantern Street']);
  const text = (await told.textContent()) ?? '';
  await page.getByRole('button', { name: 'Done' }).click();
  return text;
}

async function wasRun(page: Page): Promise<boolean> {
  return await page.evaluate(() => 'wasRun' in globalThis);
}

describe.skipIf(NO_CHROMIUM)('hostile files', () => {
  test('a script in a title is text on every screen', async () => {
    const { page, errors, close } = await visitShelf();
    await take(page, { name: 'script.musicxml', content: scoreOf(SCRIPT, SCRIPT) });
    await page.waitForURL(/#\/lesson\/[\w-]+\/chart/u);
    const address = page.url();
    for (const screen of ['chart', 'study', 'play', 'pages']) {
      await page.goto(address.replace(/\w+$/u, screen));
      await page.getByText('onerror').first().waitFor({ state: 'attached' });
      expect(await wasRun(page)).toBe(false);
      expect(await page.locator('img[src=x]').count()).toBe(0);
    }
    await page.goto(`${workbench.url}#/lessons`);
    await page.getByRole('link', { name: SCRIPT }).waitFor();
    // through a chart's text, and a backup's title, too
    await page.getByRole('button', { name: 'Paste a chart' }).click();
    await page.getByLabel('Chart text').fill(`title: ${SCRIPT}\n${SCRIPT}: | Fm7 | ${SCRIPT} |`);
    await page.getByRole('dialog').getByText('line 2').first().waitFor();
    expect(await wasRun(page)).toBe(false);
    await page.getByRole('button', { name: 'Cancel' }).click();
    const lessons = [{ id: 'x', title: SCRIPT, createdAt: 1, changedAt: 1, document: SCRIPT }];
    const backup = JSON.stringify({ kind: 'fivespan backup', version: 1, lessons });
    await take(page, { name: 'backup.json', content: backup });
    await page.getByRole('dialog').getByText('onerror').first().waitFor();
    expect(await wasRun(page)).toBe(false);
    expect(errors).toEqual([]);
    await close();
  });

  test('a file of 200 MB is refused by its size, unread', async () => {
    const { page, errors, close } = await visitShelf();
    const largestRead = async (): Promise<number> =>
      await page.evaluate(() => (globalThis as { largestRead?: number }).largestRead ?? 0);
    await page.evaluate(noteReads);
    // that reading is noticed at all: a small file is read as a whole
    const small = `title: Small\n| Fm7 | Hx9 |\n${'# a remark\n'.repeat(200)}`;
    await take(page, { name: 'small.chart', content: small });
    await page.getByRole('status').filter({ hasText: 'was made a lesson' }).waitFor();
    expect(await largestRead()).toBe(small.length);
    await page.evaluate(() => {
      (globalThis as { largestRead?: number }).largestRead = 0;
    });
    await page.getByRole('button', { name: 'Done' }).click();
    await page.getByRole('button', { name: 'More for ‘Small’', exact: true }).click();
    await page.getByRole('menuitem', { name: 'Remove' }).click();
    await page.getByText('‘Small’ was removed.').waitFor();
    for (const [name, head] of [
      ['large.musicxml', '<?xml version="1.0"?><score-partwise>'],
      ['large.chart', '| Fm7 |'],
      ['large-lesson.json', '{"version": 1, "engine": 1'],
      ['large-backup.json', '{"kind": "fivespan backup"'],
    ] as const) {
      const path = join(folder, name);
      writeFileSync(path, head);
      truncateSync(path, 200_000_000);
      await take(page, path);
      expect(await refusalOf(page)).toContain('It was not read');
      rmSync(path);
    }
    // its first bytes say what it is
    expect(await largestRead()).toBeGreaterThan(0);
    expect(await largestRead()).toBeLessThan(1000);
    expect(errors).toEqual([]);
    await close();
  });

  test('a zip bomb is stopped while it is unpacked', async () => {
    const { page, errors, close } = await visitShelf();
    const bomb = zipSync({ 'score.xml': new Uint8Array(100_000_000) }, { level: 9 });
    expect(bomb.length).toBeLessThan(1_000_000);
    await take(page, { name: 'bomb.mxl', content: bomb });
    expect(await refusalOf(page)).toMatch(/large/u);
    // one that lies about its size
    const lying = Uint8Array.from(bomb);
    const view = new DataView(lying.buffer);
    for (let at = 0; at + 4 < lying.length; at++) {
      const signature = view.getUint32(at, true);
      if (signature === 0x04034b50) view.setUint32(at + 22, 100, true);
      if (signature === 0x02014b50) view.setUint32(at + 24, 100, true);
    }
    await take(page, { name: 'lying.mxl', content: lying });
    await refusalOf(page);
    expect(errors).toEqual([]);
    await close();
  });

  test('entities that would grow without end are refused', async () => {
    const { page, close } = await visitShelf();
    const entities = Array.from({ length: 30 }, (_, index) => `<!ENTITY e${index + 1} "&e${index};&e${index};">`);
    const score = scoreOf('x', 'y').replace(
      '<score-partwise',
      `<!DOCTYPE score-partwise [<!ENTITY e0 "grow">${entities.join('')}]><score-partwise`,
    );
    await take(page, { name: 'entities.musicxml', content: score.replace('>x<', '>&e30;<') });
    await refusalOf(page);
    await close();
  });

  test('truncated files are refused with what is wrong, together; nothing is half made', async () => {
    const { page, errors, close } = await visitShelf();
    const score = scoreOf('Torn', 'Lead');
    const packed = zipSync({ 'score.xml': new TextEncoder().encode(score) });
    await take(
      page,
      { name: 'torn.musicxml', content: score.slice(0, score.length / 2) },
      { name: 'torn.mxl', content: packed.subarray(0, packed.length / 2) },
      { name: 'torn-lesson.json', content: '{"version": 1, "engine": 1, "chart": "| Fm' },
      { name: 'torn-backup.json', content: '{"kind": "fivespan backup", "version": 1, "lessons": [{' },
      { name: 'noise.chart', content: new Uint8Array([0x80, 0xff, 0x00, 0x7c, 0xc3]) },
      { name: 'empty.chart', content: '' },
    );
    const told = await refusalOf(page);
    for (const name of [
      'torn.musicxml',
      'torn.mxl',
      'torn-lesson.json',
      'torn-backup.json',
      'noise.chart',
      'empty.chart',
    ]) {
      expect(told).toContain(name);
    }
    expect(told).toContain('not JSON from beginning to end');
    expect(errors).toEqual([]);
    await close();
  });
});
