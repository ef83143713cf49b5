/**
 * Source: issue 'Practice with a free hand', Today and Checks: "the ladder moves by hearing or by one tap"; "'It hurts' stops at once,
 * shows the caution and suggests a rest, not a lower tempo"; "Until found"; "log as CSV"; "a kill loses at most one second of log"; "a
 * session of Today with a fake port, and one without"; "keyboard only".
 */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { axeIn } from './axe.ts';
import { fakeMidi, plug } from './fake-midi.ts';

/** Short and fast: a round takes some seconds. */
const CHART_TEXT = 'title: Quick Ford\nkey: F major\ntempo: 300\n\nA:\n| Gm7 C7 | Fmaj7 |\n';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

async function openToday(script: () => void, cautionsSeen = true): Promise<{ page: Page; errors: string[] }> {
  const { page, errors } = await workbench.visit({
    viewport: { width: 1024, height: 768 },
    settings: { cautionsSeen, way: 'free hand' },
    before: (context) => context.addInitScript(script),
  });
  await page.getByRole('link', { name: 'Lessons', exact: true }).click();
  await page.getByRole('button', { name: 'Paste a chart' }).click();
  await page.getByLabel('Chart text').fill(CHART_TEXT);
  await page.getByRole('button', { name: 'Make the lesson' }).click();
  await goToToday(page);
  return { page, errors };
}

async function goToToday(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Play', exact: true }).click();
  await page.getByText(/^Ready:/u).waitFor();
  await page.getByText(/^Today:/u).click();
}

const rung = (page: Page, tempoBpm: number) => page.locator('[data-rung]').filter({ hasText: `♩ = ${tempoBpm}` });

/** One pass is enough to climb, and half of its chords: a busy machine may strike late. */
async function climbAfterOne(page: Page): Promise<void> {
  await page.getByText('A pass is clean when').click();
  await page.getByRole('textbox', { name: 'chords met' }).fill('50');
  await page.getByRole('textbox', { name: 'keys outside' }).fill('50');
  await page.getByRole('textbox', { name: 'clean passes to climb' }).fill('1');
}

describe.skipIf(NO_CHROMIUM)('today', () => {
  test('without a keyboard: a step, told clean, climbs and is remembered; it hurts stops at once; positions by the computer’s keys; the log', async () => {
    const { page, errors } = await openToday(() => undefined, false);
    await climbAfterOne(page);
    // the page looks, at every change: whether the last chord still rings when the question comes
    await page.evaluate(() => {
      new MutationObserver((_, watch) => {
        if ((document.querySelector('[data-pass]')?.textContent ?? '') === '') return;
        const rings = [...document.querySelectorAll('button')].some((each) => each.textContent === 'Stop');
        Object.assign(globalThis, { rings });
        watch.disconnect();
      }).observe(document.body, { subtree: true, childList: true, characterData: true });
    });
    await page.getByRole('button', { name: 'Begin: Thumbs alone' }).press('Enter');
    // who begins with a step is cautioned, too, once
    await page.getByRole('alertdialog').getByRole('button', { name: 'Start' }).press('Enter');
    await rung(page, 150).waitFor();
    await page.getByText('How was that?').waitFor();
    expect(await page.evaluate(() => (globalThis as unknown as { rings?: boolean }).rings)).toBe(true);
    await page.getByRole('button', { name: 'clean', exact: true }).press('Enter');
    await rung(page, 180).waitFor();
    // the next round has begun; it hurts: nothing sounds, and no lower tempo is offered
    await page.locator('[data-bar-now]').filter({ hasText: 'bar 1' }).waitFor();
    // it is in the window, however low that is: nobody who hurts looks for it
    const hurts = page.getByRole('button', { name: 'It hurts' });
    await page.setViewportSize({ width: 390, height: 640 });
    await expect
      .poll(() => hurts.evaluate((button) => Math.max(0, button.getBoundingClientRect().bottom - innerHeight)))
      .toBe(0);
    await page.setViewportSize({ width: 1024, height: 768 });
    await hurts.click();
    await page.getByRole('alert').filter({ hasText: 'Stop here for today' }).waitFor();
    expect(await page.locator('[data-today]').count()).toBe(0);
    await page.getByRole('button', { name: 'I have read that' }).click();

    // the page is left in the middle: what was practised a second ago is there, and what a clean pass is is remembered
    await page.reload();
    await goToToday(page);
    await page.getByText('A pass is clean when').click();
    expect(await page.getByRole('textbox', { name: 'chords met' }).inputValue()).toBe('50');
    await page.getByText('What was practised', { exact: true }).click();
    const { violations } = await (await axeIn(page, 'light')).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save it (CSV)' }).click(),
    ]);
    const lines = readFileSync(await download.path(), 'utf8').split('\r\n');
    expect(lines[0]).toBe('day,lesson,step,key,tempo,seconds,clean,not yet');
    const first = lines[1]?.split(',') ?? [];
    expect(first.slice(1, 5)).toEqual(['Quick Ford', 'thumbs', 'F major', '150']);
    // two bars of count-in, two bars and the last one at 150: about eight seconds
    expect(Number(first[5])).toBeGreaterThanOrEqual(5);
    expect(first.slice(6)).toEqual(['1', '0']);

    // time stands until the position is found
    await page.getByRole('button', { name: 'Look for positions' }).click();
    const looking = page.locator('[data-looking]');
    expect(await looking.getAttribute('data-looking')).toBe('0');
    const sought = (await page.locator('[data-sought]').textContent()) ?? '';
    // the digits are the thumbs of the chord, from the left: the one that is looked for is among the first three
    for (const digit of ['Digit1', 'Digit2', 'Digit3']) {
      if ((await looking.getAttribute('data-looking')) !== '0') break;
      await page.keyboard.press(digit);
      for (const finger of ['KeyL', 'KeyH', 'Semicolon', 'KeyJ', 'KeyK']) await page.keyboard.press(finger);
    }
    await page.locator('[data-looking="1"]').waitFor();
    expect(sought).not.toBe('');
    await page.getByRole('button', { name: 'Leave it' }).click();

    // the ladder is where it stood
    await page.getByRole('button', { name: 'Begin: Thumbs alone' }).click();
    await rung(page, 180).waitFor();
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test('with a keyboard: a pass is heard, and climbs without a word; keys beside it are rings of another kind', async () => {
    const { page, errors } = await openToday(fakeMidi);
    await climbAfterOne(page);
    await page.getByText('Programme, players, keyboard and pedal').click();
    await page.getByRole('button', { name: 'Connect a MIDI keyboard' }).click();
    await plug(page, 'Stage');
    await page.getByText('Connected: Stage.').waitFor();
    // whoever plays here strikes the first thumb of each chord, and at last a key that is in none
    await page.evaluate(() => {
      const send = (...bytes: number[]): void =>
        (globalThis as unknown as { fakeMidi: { send(name: string, ...bytes: number[]): void } }).fakeMidi.send(
          'Stage',
          ...bytes,
        );
      const seen = { signs: [] as string[] };
      Object.assign(globalThis, { seen });
      let last = '';
      requestAnimationFrame(function look() {
        requestAnimationFrame(look);
        for (const mark of document.querySelectorAll('[data-stage-keys] [data-pressed]')) {
          const sign = mark.getAttribute('data-sign') ?? '';
          if (!seen.signs.includes(sign)) seen.signs.push(sign);
        }
        const chord = document.querySelector('[data-chord-now]')?.textContent ?? '';
        const bar = document.querySelector('[data-bar-now]')?.textContent ?? '';
        if (!bar.startsWith('bar') || `${bar}${chord}` === last) return;
        last = `${bar}${chord}`;
        const key = Number(document.querySelector('[data-tab][data-key-of-tab]')?.getAttribute('data-key-of-tab'));
        send(0x90, key + 12, 90);
        setTimeout(() => send(0x80, key + 12, 0), 120);
      });
    });
    await page.getByRole('button', { name: 'Begin: Notes of your own' }).click();
    await rung(page, 226).waitFor();
    await page.locator('[data-pass]').filter({ hasText: 'Heard: clean.' }).waitFor();
    await rung(page, 240).waitFor();
    await page.getByRole('button', { name: 'Next round' }).click();
    // and that one is heard, too
    await rung(page, 256).waitFor();
    const { signs } = await page.evaluate(() => (globalThis as unknown as { seen: { signs: string[] } }).seen);
    expect(signs).toEqual(['inside']);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
