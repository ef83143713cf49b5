/**
 * Source: issue 'The workbench': "Same lesson, same files: what the browser saves equals what `fivespan lesson` writes, byte for
 * byte (Node and Chromium here)."
 */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { hashOf, openPages, panel, savedBy, soundOfCommandLine } from './pages.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const run = promisify(execFile);
const fivespan = join(import.meta.dirname, '../..', 'apps/cli/bin/fivespan.mjs');

/** Three choruses of it last under a quarter of a minute. */
const SHORT = 'title: Short\nkey: F major\ntempo: 240\n\nGm7 | C7 | Fmaj7 | Fmaj7\n';

let workbench: Workbench;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-identity-'));
  [workbench] = await Promise.all([
    openWorkbench(),
    run(process.execPath, [fivespan, 'lesson', 'examples/DEMO.chart', '--keys', 'Eb,A', '--out', join(folder, 'two')]),
  ]);
  await run(process.execPath, [fivespan, 'lesson', 'examples/DEMO.chart', '--for', 'Eb', '--out', join(folder, 'own')]);
  const chosen = ['--paper', 'letter', '--level', '3', '--hand', 'small', '--seed', '2'];
  const into = ['--out', join(folder, 'chosen')];
  await run(process.execPath, [fivespan, 'lesson', 'examples/DEMO.chart', ...chosen, ...into]);
}, 300_000);
afterAll(async () => {
  await workbench?.close();
  rmSync(folder, { recursive: true, force: true });
});

const written = (path: string): Uint8Array => readFileSync(join(folder, path));

/** Whether two files are the same; their hashes where not, for nobody can read a diff of a megabyte. */
function expectSame(saved: Uint8Array, path: string): void {
  expect({ path, bytes: saved.length, hash: hashOf(saved) }).toEqual({
    path,
    bytes: written(path).length,
    hash: hashOf(written(path)),
  });
}

const save = async (page: Page, button: string): Promise<Uint8Array> =>
  (await savedBy(page, () => page.getByRole('button', { name: button, exact: true }).click())).bytes;

describe.skipIf(NO_CHROMIUM)('what the browser saves is what the command line writes', () => {
  test('the files of one key', { timeout: 120_000 }, async () => {
    const { page } = await workbench.visit();
    await openPages(page);
    expectSame(await save(page, 'Save PDF'), 'own/E-flat-major/study.pdf');
    await page.getByRole('radio', { name: /^Play page/u }).check();
    expectSame(await save(page, 'Save PDF'), 'own/E-flat-major/play.pdf');
    await panel(page, 'For other programs');
    expectSame(await save(page, 'Save MusicXML'), 'own/E-flat-major/lesson.musicxml');
    expectSame(await save(page, 'Save MIDI'), 'own/E-flat-major/lesson.mid');
    await panel(page, 'The lesson itself');
    expectSame(await save(page, 'Save lesson file'), 'own/lesson.json');
    // the part of one of the band
    await page.getByRole('radio', { name: 'Part' }).check();
    await page.getByLabel('For', { exact: true }).selectOption({ label: 'E♭: alto, baritone' });
    expectSame(await save(page, 'Save PDF'), 'own/E-flat-major/part-E-flat.pdf');
    expectSame(await save(page, 'Save the part as MusicXML'), 'own/E-flat-major/part-E-flat.musicxml');
    await page.getByRole('radio', { name: /^Play page/u }).check();
    // another key: what is previewed is what is saved
    await page.getByLabel('Key', { exact: true }).selectOption({ label: 'A major' });
    expectSame(await save(page, 'Save PDF'), 'two/A-major/play.pdf');
  });

  test('other choices, other paper', { timeout: 120_000 }, async () => {
    const { page } = await workbench.visit();
    await openPages(page);
    await panel(page, 'Choices for this lesson');
    await page.getByRole('radio', { name: /^3, free/u }).check();
    await page.getByRole('radio', { name: 'Small', exact: true }).check();
    await page.getByRole('button', { name: 'Another chorus' }).click();
    await page.getByRole('radio', { name: 'Letter' }).check();
    expectSame(await save(page, 'Save PDF'), 'chosen/E-flat-major/study.pdf');
    await panel(page, 'The lesson itself');
    expectSame(await save(page, 'Save lesson file'), 'chosen/lesson.json');
    expect(hashOf(written('chosen/E-flat-major/study.pdf'))).not.toBe(hashOf(written('own/E-flat-major/study.pdf')));
  });

  test('a pack of two keys, folder by folder', { timeout: 120_000 }, async () => {
    const { page } = await workbench.visit();
    await openPages(page);
    await panel(page, 'Several keys at once');
    await page.getByRole('radio', { name: 'Chosen ones' }).check();
    await page.getByRole('checkbox', { name: 'E♭ major' }).check();
    await page.getByRole('checkbox', { name: 'A major', exact: true }).check();
    const entries = unzipSync(await save(page, 'Save 8 files in 2 keys'));
    const names = ['study.pdf', 'play.pdf', 'lesson.musicxml', 'lesson.mid'];
    expect(Object.keys(entries).toSorted()).toEqual(
      [
        'lesson.json',
        ...['E-flat-major', 'A-major'].flatMap((key) => names.map((name) => `${key}/lantern-street-${key}-${name}`)),
      ].toSorted(),
    );
    // the same bytes, under names that say which tune and key they are
    for (const [path, bytes] of Object.entries(entries)) {
      expectSame(bytes, `two/${path.replace(/\/lantern-street-(?:E-flat|A)-major-/u, '/')}`);
    }
  });

  test('a pack made again is the same, also by several presses side by side', { timeout: 120_000 }, async () => {
    const { page: oneWorker } = await workbench.visit();
    // what a page knows of the machine: two presses work where it has four cores, one where it has two
    const packOn = async (page: typeof oneWorker, cores: number): Promise<{ bytes: Buffer; workers: number }> => {
      await page.addInitScript((told) => {
        Object.defineProperty(navigator, 'hardwareConcurrency', { get: () => told });
      }, cores);
      await page.reload();
      await openPages(page, SHORT);
      await panel(page, 'Several keys at once');
      await page.getByRole('radio', { name: 'Chosen ones' }).check();
      await page.getByRole('checkbox', { name: 'E♭ major' }).check();
      await page.getByRole('checkbox', { name: 'A major', exact: true }).check();
      const bytes = await save(page, 'Save 8 files in 2 keys');
      return { bytes: Buffer.from(bytes), workers: page.workers().length };
    };
    const one = await packOn(oneWorker, 2);
    const { page: severalWorkers } = await workbench.visit();
    const several = await packOn(severalWorkers, 4);
    expect(several.workers).toBeGreaterThan(one.workers);
    expect(hashOf(several.bytes)).toBe(hashOf(one.bytes));
  });

  describe('sound, from the same bank', () => {
    // one visit: the bank is decoded and the tune composed once, as for whoever saves one kind after another
    let page: Page;
    beforeAll(async () => {
      ({ page } = await workbench.visit());
      await openPages(page, SHORT);
      await panel(page, 'Sound');
    });
    afterAll(() => page.context().close());

    test.each(['WAV', 'MP3', 'FLAC', 'MIDI'] as const)('as %s', { timeout: 120_000 }, async (kind) => {
      await page.getByRole('radio', { name: new RegExp(`^${kind}`, 'u') }).check();
      const saved = await save(page, 'Save sound');
      const made = await soundOfCommandLine(
        SHORT,
        kind === 'MIDI' ? 'mid' : (kind.toLowerCase() as 'wav' | 'mp3' | 'flac'),
      );
      expect({ bytes: saved.length, hash: hashOf(saved) }).toEqual({ bytes: made.length, hash: hashOf(made) });
    });
  });
});

/** Source: GNU LGPL 3.0, section 4: the library can be replaced by a modified one; NOTICE says how it is shipped. */
test.skipIf(NO_CHROMIUM)('the engraver is shipped as the file its package has', async () => {
  const list = (await (await fetch(new URL('files.json', workbench.url))).json()) as { path: string }[];
  const [engraver, ...more] = list.filter(({ path }) => /verovio-module/u.test(path));
  expect(more).toEqual([]);
  const served = new Uint8Array(await (await fetch(new URL(engraver?.path ?? '', workbench.url))).arrayBuffer());
  expect(hashOf(served)).toBe(hashOf(readFileSync(createRequire(import.meta.url).resolve('verovio/wasm'))));
});
