/**
 * Source: issue 'Takes', Recording, Words, Pictures and Checks: "from recording to remark to its loop; reopened, written down, saved;
 * thrown away and gone"; "Kill the browser while recording"; "a crash loses at most one second". The keyboard is a fake after the Web
 * MIDI API (W3C).
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readTakeMidi } from '@fivespan/formats/midi';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { fakeMidi, plug } from './fake-midi.ts';
import { startChromium } from './killed-chromium.ts';
import { pasteLesson, savedBy } from './pages.ts';
import { backupWithTakes } from './stepped-takes.ts';

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

/** What is in the database. In the page. */
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
    await page.getByText(/^Today:/u).click();
    await page.getByRole('checkbox', { name: 'Record what I play' }).check();
    await page.getByText('It stays in this browser.').waitFor();
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
    await page.getByText(/^Today:/u).click();
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

    // saved it is what the command line reads: the same bars
    await page.getByText(/^Today:/u).click();
    const saved = await savedBy(page, () => page.getByRole('button', { name: /^Save as MIDI: Quick Ford/u }).click());
    expect(saved.name).toMatch(/^\d{4}-\d\d-\d\d Quick Ford F major 240\.mid$/u);
    const back = readTakeMidi(saved.bytes);
    if (!back.ok) throw new Error(JSON.stringify(back.issues));
    expect(back.value.notes.length).toBe(48);
    expect(back.value.quartersAMinute).toBeCloseTo(240, 2);
    expect(back.value.markers.map(({ text }) => text)).toEqual(
      expect.arrayContaining(['count-in', 'bar 1', 'Gm7', 'C7', 'Fmaj7', 'chorus 3']),
    );

    // a file from elsewhere is taken in; what is none is told
    const takeIn = async (name: string, buffer: Buffer): Promise<void> => {
      const choosing = page.waitForEvent('filechooser');
      await page.getByRole('button', { name: 'Take in a MIDI file' }).click();
      await (await choosing).setFiles({ name, mimeType: 'audio/midi', buffer });
    };
    await takeIn('broken.mid', Buffer.from('MThd, and no more'));
    await page
      .getByText(/no MIDI file|not a MIDI file|MIDI/u)
      .filter({ hasText: /breaks off|damaged|is no|not a/u })
      .waitFor();
    await takeIn('elsewhere.mid', Buffer.from(saved.bytes));
    await page.getByText('Taken in. Look at it above.').waitFor();
    expect(await page.locator('[data-kept-take]').count()).toBe(2);

    // played back with the trio, and written down into the lesson
    await page.getByRole('button', { name: 'Quick Ford, F major, ♩ = 240', exact: true }).first().click();
    await page.getByRole('button', { name: 'Hear it with the trio' }).click();
    await page.getByText('Your take, played back').waitFor();
    await page.locator('[data-bar-now]').filter({ hasText: /^bar/u }).waitFor();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByRole('button', { name: 'Back to the programme' }).click();
    await page.locator('[data-take-bar="1"]').first().click();
    await page.getByRole('button', { name: 'Into the lesson, as notes of its own' }).click();
    const written = page.getByText(/^\d+ notes? written into the lesson/u);
    await written.waitFor();
    // eight were struck; one that a busy page lets go too late falls into the next bar
    const notes = Number.parseInt(await written.innerText(), 10);
    expect(notes).toBeGreaterThanOrEqual(6);
    expect(notes).toBeLessThanOrEqual(8);
    await page.getByRole('button', { name: 'Throw it away' }).click();

    // thrown away it is gone, on the disk too
    await page.getByText(/^Today:/u).click();
    await page.getByRole('button', { name: /^Throw away: Quick Ford/u }).click();
    await page.getByText('None is kept yet.').waitFor();
    expect(await page.evaluate(takesOnDisk)).toEqual({ takes: 0, pieces: 0 });
    expect(errors).toEqual([]);
  });
});

describe.skipIf(NO_CHROMIUM)('takes out of a backup', () => {
  test('come back kept, go into another where they are ticked; each kind of step a remark proposes starts', async () => {
    const { page, errors } = await workbench.visit({
      viewport: { width: 1024, height: 768 },
      settings: { cautionsSeen: true },
    });
    await page.getByRole('link', { name: 'Lessons' }).click();
    const choosing = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Restore from a backup' }).click();
    await (
      await choosing
    ).setFiles({ name: 'all.json', mimeType: 'application/json', buffer: Buffer.from(backupWithTakes()) });
    await page.getByRole('dialog').getByText('3 takes are in it, too').waitFor();
    await page.getByRole('dialog').getByRole('button', { name: 'Merge' }).click();
    await page.getByText('Restored: 1 lesson and 3 takes came.').waitFor();

    // what somebody played leaves the browser only where it is asked for
    const backUp = async (): Promise<unknown> => {
      const { bytes } = await savedBy(page, () => page.getByRole('button', { name: 'Back up everything' }).click());
      return JSON.parse(Buffer.from(bytes).toString());
    };
    expect(await backUp()).not.toHaveProperty('takes');
    await page.getByRole('checkbox', { name: 'with 3 kept takes' }).check();
    expect(await backUp()).toMatchObject({ version: 2, takes: [{ id: 'late' }, { id: 'alone' }, { id: 'drill' }] });

    await page.getByRole('link', { name: 'Quick Walk', exact: true }).click();
    await page.getByRole('link', { name: 'Play', exact: true }).click();
    await page.getByText(/^Ready:/u).waitFor();
    const started = async (take: string, step: RegExp): Promise<void> => {
      await page.getByText(/^Today:/u).click();
      await page.locator(`[data-kept-take="${take}"] button`).first().click();
      await page.getByRole('button', { name: step }).click();
      await page.locator('[data-bar-now]').filter({ hasText: /bar/u }).waitFor();
      expect(await page.locator('[data-tempo-now]').textContent()).toContain('120');
      await page.getByRole('button', { name: 'Stop' }).click();
      await page.getByRole('button', { name: 'Back to the programme' }).click();
    };
    await started('late', /^Play it at ♩ = 120$/u);
    await started('alone', /^Left hand alone at ♩ = 120$/u);
    // bass and both hands of the band are silent, so that the left hand hears itself
    const sounding = page.locator('button[aria-label^="Mute "][aria-pressed="false"]');
    expect(await sounding.evaluateAll((all) => all.map((each) => each.getAttribute('aria-label')).join())).not.toMatch(
      /right hand|left hand|bass/iu,
    );
    expect(await page.locator('button[aria-label^="Mute "][aria-pressed="true"]').count()).toBeGreaterThanOrEqual(2);
    await started('drill', /^Drill: .*♩ = 120$/u);
    expect(errors).toEqual([]);
  });
});

/** How often the browser is killed; by hand more often. */
const KILLS = Number(process.env['FIVESPAN_KILLS'] ?? 5);
const KILLS_LIMIT_MS = Math.max(5, KILLS) * 36_000;

/** Before a page's own script: a keyboard, and nothing that asks first. */
function killedSetUp(): void {
  try {
    localStorage['fivespan.settings'] ??= JSON.stringify({ tourSeen: true, cautionsSeen: true });
  } catch {
    // a page of no address keeps nothing
  }
}

describe.skipIf(NO_CHROMIUM)('a browser killed while it records', () => {
  test(
    'loses no note older than a second; the take is offered once',
    async () => {
      const profile = mkdtempSync(join(tmpdir(), 'fivespan-take-'));
      const loss: string[] = [];
      let chrome = await startKilled(profile);
      try {
        for (let kill = 1; kill <= KILLS; kill++) {
          const { page } = chrome;
          if (kill > 1) await page.getByRole('button', { name: 'Back to the tune' }).click();
          await plug(page, 'Stage');
          await page.getByText(/^Today:/u).click();
          await page.getByRole('checkbox', { name: 'Record what I play' }).check();
          const noted: number[] = [];
          await page.exposeFunction('noteSent', () => void noted.push(performance.now()));
          await page.getByRole('button', { name: 'Start', exact: true }).click();
          await page.getByText('Recording begins with your first key').waitFor();
          await page.evaluate(() => {
            const { fakeMidi: keyboard, noteSent } = globalThis as unknown as {
              fakeMidi: { send(name: string, ...bytes: number[]): void };
              noteSent: () => Promise<void>;
            };
            let key = 60;
            setInterval(() => {
              const sign = document.querySelector('[data-recording]');
              if (sign === null || document.querySelector('[data-bar-now]') === null) return;
              keyboard.send('Stage', 0x80, key, 0);
              key = key === 72 ? 60 : key + 1;
              const before = Number(sign.getAttribute('data-recording'));
              keyboard.send('Stage', 0x90, key, 80);
              if (before > 0) void noteSent();
            }, 60);
          });
          await expect.poll(() => noted.length, { timeout: 90_000, interval: 20 }).toBeGreaterThan(40 + 3 * (kill % 7));
          const died = performance.now();
          await chrome.kill();

          chrome = await startKilled(profile);
          const offer = chrome.page.getByRole('alert').filter({ hasText: 'A take was cut off: Lantern Street' });
          await offer.getByRole('button', { name: 'Keep this take' }).click();
          const about = await chrome.page
            .locator('[data-take] header p')
            .filter({ hasText: /notes?$/u })
            .textContent();
          const notes = Number(/(\d+) notes$/u.exec(about ?? '')?.[1]);
          loss.push(`${noted.length - notes} of ${noted.length}`);
          expect(notes).toBeGreaterThanOrEqual(noted.filter((at) => at < died - 1000).length);
        }
        if (KILLS > 1) process.stdout.write(`lost: ${loss.join(', ')}\n`);
      } finally {
        await chrome.kill();
        rmSync(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
      }
    },
    KILLS_LIMIT_MS,
  );
});

/** Play in a browser that is to be killed, loaded once: what was cut off is offered there, and the next take recorded. */
async function startKilled(profile: string): Promise<Awaited<ReturnType<typeof startChromium>>> {
  const chrome = await startChromium(profile, killedSetUp);
  await chrome.page.addInitScript(fakeMidi);
  await chrome.page.goto(workbench.url);
  await chrome.page.getByRole('link', { name: 'Play', exact: true }).click();
  await chrome.page.getByText(/^Ready:/u).waitFor();
  return chrome;
}
