/**
 * Source: issue 'Takes', Recording, Words, Pictures and Checks: "from recording to remark to its loop; reopened, written down, saved;
 * thrown away and gone"; "Kill the browser while recording"; "a crash loses at most one second". The keyboard is a fake after the Web
 * MIDI API (W3C).
 */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { fakeMidi, plug } from './fake-midi.ts';
import { pasteLesson } from './pages.ts';

/** Short and fast. */
const CHART_TEXT = 'title: Quick Ford\nkey: F major\ntempo: 240\n\nA:\n| Gm7 | C7 | Fmaj7 | % |\n';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

/** Play, a keyboard plugged in, one chorus to come. */
async function openPlay(): Promise<{ page: Page; errors: string[] }> {
  const { page, context, errors } = await workbench.visit({
    viewport: { width: 1024, height: 768 },
    settings: { cautionsSeen: true },
  });
  await context.addInitScript(fakeMidi);
  await page.reload();
  await pasteLesson(page, CHART_TEXT);
  await page.getByRole('link', { name: 'Play', exact: true }).click();
  await page.getByText(/^Ready:/u).waitFor();
  return { page, errors };
}

/** Whoever plays here strikes four notes in each bar: over the first two chords G minor pentatonic, over the last F sharp's. */
async function playAlong(page: Page): Promise<void> {
  await page.evaluate(() => {
    const send = (...bytes: number[]): void =>
      (globalThis as unknown as { fakeMidi: { send(name: string, ...bytes: number[]): void } }).fakeMidi.send(
        'Stage',
        ...bytes,
      );
    let last = '';
    new MutationObserver(() => {
      const bar = (document.querySelector('[data-bar-now]')?.textContent ?? '').replaceAll(/\s+/gu, ' ');
      const number = Number(/^bar (\d)/u.exec(bar)?.[1] ?? Number.NaN);
      if (Number.isNaN(number) || bar === last) return;
      last = bar;
      const keys = number <= 2 ? [67, 70, 72, 74] : [66, 68, 73, 75];
      for (const [index, key] of keys.entries()) {
        setTimeout(() => send(0x90, key, 60 + 9 * index), index * 200);
        setTimeout(() => send(0x80, key, 0), index * 200 + 150);
      }
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
  });
}

/** What lies in the database. In the page. */
function takesOnDisk(): Promise<{ takes: number; pieces: number }> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('fivespan-takes');
    opening.addEventListener('error', () => reject(new Error('the database does not open')));
    opening.addEventListener('success', () => {
      const reading = opening.result.transaction(['takes', 'pieces']);
      const [takes, pieces] = [reading.objectStore('takes').count(), reading.objectStore('pieces').count()];
      reading.addEventListener('complete', () => {
        opening.result.close();
        resolve({ takes: takes.result, pieces: pieces.result });
      });
    });
  });
}

describe.skipIf(NO_CHROMIUM)('takes', () => {
  test('recorded, remarked on, its loop begun; kept, reopened; thrown away and gone', async () => {
    const { page, errors } = await openPlay();
    await plug(page, 'Stage');
    await page.getByRole('checkbox', { name: 'Record what I play' }).check();
    await page.getByText('It stays in this browser, on this machine').waitFor();
    await playAlong(page);
    await page.getByRole('button', { name: 'Start', exact: true }).click();
    await page.getByText('Recording begins with your first key').waitFor();
    await page
      .locator('[data-recording]')
      .filter({ hasText: /^Recording: \d+ notes/u })
      .waitFor();

    // the tune ends, and what was heard is told: two bars of three choruses lay outside
    const wrong = page.locator('[data-work-on="position.wrong"]');
    await wrong.waitFor();
    expect(await page.locator('[data-take-bar]').count()).toBeGreaterThanOrEqual(11);
    expect(await page.locator('[data-work-on]').count()).toBeLessThanOrEqual(2);
    // who comes back next day finds it, with what the teacher wrote at a bar
    await page.getByRole('button', { name: 'Keep this take' }).click();
    await page.getByText('Kept on this machine.').waitFor();
    await page.locator('[data-take-bar="3"]').first().click();
    await page.getByRole('textbox', { name: 'Your remark at bar 3' }).fill('The thumb goes to A.');
    await page.getByRole('button', { name: 'Write it there' }).click();
    await page.getByText('Bar 3: The thumb goes to A.').waitFor();
    await page.reload();
    await page.getByText(/^Ready:/u).waitFor();
    await page.getByText('Takes: what was recorded').click();
    await page.getByRole('button', { name: 'Quick Ford, F major, ♩ = 240', exact: true }).click();
    await page
      .getByRole('button', { name: /^bar 3; .*outside every position.*Your remark: The thumb goes to A/u })
      .first()
      .waitFor();

    // the step is begun at once: these bars, slower, again and again
    await page.getByRole('button', { name: /^Loop bars 3–4 at/u }).click();
    await page
      .getByText(/bars 3.4/u)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByRole('button', { name: 'Back to the programme' }).click();

    // thrown away it is gone, on the disk too
    await page.getByText('Takes: what was recorded').click();
    await page.getByRole('button', { name: /^Throw away: Quick Ford/u }).click();
    await page.getByText('None is kept yet.').waitFor();
    expect(await page.evaluate(takesOnDisk)).toEqual({ takes: 0, pieces: 0 });
    expect(errors).toEqual([]);
  });
});
