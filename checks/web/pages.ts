/** The pages screen, for checks: getting there, and taking what it saves. */
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { DEFAULT_CHOICES, analyse, readChart, usualProgramme, type Chart } from '@fivespan/core';
import type { Page } from 'playwright-core';
import { bankFiles } from '../sound-bank.ts';

/** Makes a lesson of a chart as a teacher does: pasted. */
export async function pasteLesson(page: Page, chartText: string): Promise<void> {
  await page.getByRole('link', { name: 'Lessons' }).click();
  await page.getByRole('button', { name: 'Paste a chart' }).click();
  await page.getByLabel('Chart text').fill(chartText);
  await page.getByRole('button', { name: 'Make the lesson' }).click();
  await page.waitForURL(/\/chart$/u);
}

/** Goes to the pages of the demo lesson, or of one that is made of a chart, and waits until they are shown. */
export async function openPages(page: Page, chartText?: string): Promise<void> {
  await page.waitForURL(/#\/lesson\//u);
  if (chartText !== undefined) await pasteLesson(page, chartText);
  await page.getByRole('navigation').getByRole('link', { name: 'Pages' }).click();
  await pagesAreShown(page);
}

/** Waits until the pages asked for last are there. */
export async function pagesAreShown(page: Page): Promise<void> {
  await page
    .getByRole('status')
    .filter({ hasText: /^\d+ pages?$/u })
    .waitFor();
}

/** Unfolds a part of the screen. */
export async function panel(page: Page, title: string): Promise<void> {
  await page.getByRole('heading', { name: title, exact: true }).click();
}

/** What an action has the browser save. */
export async function savedBy(page: Page, action: () => Promise<void>): Promise<{ name: string; bytes: Uint8Array }> {
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 90_000 }), action()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

export const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

export function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new Error(`the chart must be right: ${JSON.stringify(read.issues)}`);
  return read.value;
}

/**
 * A chart's usual programme as the command line's own worker writes it, but with the web bank. The command line must have been
 * built: call it once before.
 */
export async function soundOfCommandLine(chartText: string, kind: 'wav' | 'mp3' | 'flac' | 'mid'): Promise<Uint8Array> {
  const dist = join(import.meta.dirname, '../..', 'apps/cli/dist');
  const { folder } = JSON.parse(readFileSync(join(dist, 'current.json'), 'utf8')) as { folder: string };
  const chart = chartOf(chartText);
  const worker = new Worker(join(dist, folder, 'sound-worker.js'));
  const scratchFolder = mkdtempSync(join(tmpdir(), 'fivespan-identity-'));
  try {
    return await new Promise<Uint8Array>((resolve, reject) => {
      worker.on('message', (message: { kind: string; head: Uint8Array; body: string; tail: Uint8Array }) => {
        if (message.kind === 'made') {
          resolve(Buffer.concat([message.head, readFileSync(message.body), message.tail]));
        } else if (message.kind !== 'progress') reject(new Error(JSON.stringify(message)));
      });
      worker.on('error', reject);
      void bankFiles().then(({ web }) => {
        const { key } = analyse(chart, DEFAULT_CHOICES.pins.analysis);
        worker.postMessage({
          chart,
          choices: DEFAULT_CHOICES,
          programme: usualProgramme(chart, key),
          kind,
          title: chart.title,
          bankFile: web,
          sampleRate: 44_100,
          bits: 16,
          scratchFolder,
        });
      });
    });
  } finally {
    await worker.terminate();
    rmSync(scratchFolder, { recursive: true, force: true });
  }
}
