/**
 * Source: issue 'The workbench', Play and Checks: "A connected MIDI keyboard sounds at once and shows what is pressed"; "fake MIDI
 * keyboard"; "Foot pedal, space bar and one big control start and stop". The fake follows the Web MIDI API (W3C): MIDIAccess with
 * its inputs, their messages and statechange events.
 */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { firstSound, forgetRecorded, peakBetween, RECORDABLE, recordingOf, recordSound } from './play-recorder.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { fakeMidi, plug, send, unplug } from './fake-midi.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

async function openPlay(script: () => void): Promise<{ page: Page; errors: string[] }> {
  const { page, errors } = await workbench.visit({
    viewport: { width: 1280, height: 900 },
    settings: { cautionsSeen: true },
    ...RECORDABLE,
    before: async (context) => {
      await recordSound(context);
      await context.addInitScript(script);
    },
  });
  await page.getByRole('link', { name: 'Play', exact: true }).click();
  await page.getByText(/^Ready:/u).waitFor();
  await page.getByText('Programme, players, keyboard and pedal').click();
  return { page, errors };
}

const connect = (page: Page): Promise<void> => page.getByRole('button', { name: 'Connect a MIDI keyboard' }).click();

/** Seconds of sound recorded from now on. */
async function recordFor(page: Page, seconds: number) {
  await forgetRecorded(page);
  await page.waitForFunction(
    (wanted) =>
      (globalThis as unknown as { fivespanRecorder: { blocks: unknown[]; rate: number } }).fivespanRecorder.blocks
        .length *
        2048 >
      wanted * 44_100,
    seconds,
  );
  return await recordingOf(page);
}

describe.skipIf(NO_CHROMIUM)('a MIDI keyboard', () => {
  test('is noticed when it is plugged in, sounds at once, shows what is pressed, and lets go when it is pulled out', async () => {
    const { page, errors } = await openPlay(fakeMidi);
    await connect(page);
    await page.getByText('No keyboard is connected. Plug one in: it is noticed.').waitFor();
    await plug(page, 'Stage');
    await page.getByText('Connected: Stage.', { exact: true }).waitFor();

    await forgetRecorded(page);
    await send(page, 0x90, 60, 100);
    await send(page, 0x90, 63, 100);
    await page.locator('[data-pressed="60"]').waitFor();
    expect(await page.locator('[data-pressed]').count()).toBe(2);
    const sounding = await recordFor(page, 0.5);
    expect(firstSound(sounding)).toBeDefined();

    await send(page, 0x90, 60, 0);
    await send(page, 0x80, 63, 0);
    await page.locator('[data-pressed="60"]').waitFor({ state: 'detached' });
    const released = await recordFor(page, 2);
    const end = released.blocks.at(-1)?.frame ?? 0;
    expect(peakBetween(released, end - 2048, end + 2048)).toBeLessThan(1e-3);

    // the damper holds what is let go
    await send(page, 0xb0, 64, 127);
    await send(page, 0x90, 48, 100);
    await send(page, 0x80, 48, 0);
    const held = await recordFor(page, 1);
    const heldEnd = held.blocks.at(-1)?.frame ?? 0;
    expect(peakBetween(held, heldEnd - 4096, heldEnd + 2048)).toBeGreaterThan(5e-3);
    await send(page, 0xb0, 64, 0);

    await send(page, 0x90, 72, 90);
    await page.locator('[data-pressed="72"]').waitFor();
    await unplug(page, 'Stage');
    await page.getByText('No keyboard is connected').waitFor();
    expect(await page.locator('[data-pressed]').count()).toBe(0);
    const gone = await recordFor(page, 2);
    const goneEnd = gone.blocks.at(-1)?.frame ?? 0;
    expect(peakBetween(gone, goneEnd - 2048, goneEnd + 2048)).toBeLessThan(1e-3);
    expect(errors).toEqual([]);
    await page.close();
  });

  test('plays along, its pressed keys marked in play view; a pedal is assigned by pressing it and starts and stops', async () => {
    const { page, errors } = await openPlay(fakeMidi);
    await plug(page, 'Stage');
    await connect(page);
    await page.getByText('Connected: Stage.', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Choose another pedal or key' }).click();
    await page.getByText('Press your pedal or key now.').waitFor();
    await send(page, 0xb0, 67, 127);
    await page.getByText('Space bar and the soft pedal start and stop.').waitFor();
    await send(page, 0xb0, 67, 0);
    await send(page, 0xb0, 67, 127);
    await page.locator('[data-bar-now]').waitFor();
    await send(page, 0x90, 65, 80);
    await page.locator('[data-pressed="65"]').waitFor();
    await send(page, 0x80, 65, 0);
    // held, it says so again: no second press
    await send(page, 0xb0, 67, 126);
    await send(page, 0xb0, 67, 0);
    expect(await page.getByRole('button', { name: 'Stop' }).count()).toBe(1);
    await send(page, 0xb0, 67, 127);
    await page.getByRole('button', { name: /^Go on/u }).waitFor();

    // the delay: whoever taps here strikes at each click, on a keyboard that is slow
    await page.getByRole('button', { name: 'Back to the programme' }).click();
    await page.getByText('Programme, players, keyboard and pedal').click();
    await page.getByRole('button', { name: 'Mute your keyboard' }).click();
    await page.evaluate(() => {
      const { fivespanRecorder: recorder, fakeMidi } = globalThis as unknown as {
        fivespanRecorder: { blocks: { left: Float32Array }[] };
        fakeMidi: { send(name: string, ...bytes: number[]): void };
      };
      // At the block itself: of a busy page, a painting may skip a whole click. And as late as a slow keyboard is:
      // the page takes its own loudspeaker's delay off, so that who strikes with the block may be early.
      const KEYBOARD_MS = 80;
      let isLoud = false;
      const heard: typeof recorder.blocks = [];
      heard.push = (block) => {
        const loud = block.left.some((each) => Math.abs(each) > 0.01);
        if (loud && !isLoud) {
          setTimeout(() => {
            fakeMidi.send('Stage', 0x90, 72, 90);
            fakeMidi.send('Stage', 0x80, 72, 0);
          }, KEYBOARD_MS);
        }
        isLoud = loud;
        return 0;
      };
      recorder.blocks = heard;
    });
    await page.getByRole('button', { name: 'Measure the delay' }).click();
    await page.getByText('Tap any key to the clicks').waitFor();
    await page.getByText(/^[1-9]\d* ms are taken off what is heard/u).waitFor();
    const { keyDelayMs } = await page.evaluate(
      () => JSON.parse(localStorage.getItem('fivespan.settings') ?? '{}') as { keyDelayMs: number },
    );
    expect(keyDelayMs).toBeGreaterThan(0);
    // nearer to its own click than to the next one, whatever the machine is at
    expect(keyDelayMs).toBeLessThanOrEqual(300);
    expect(errors).toEqual([]);
    await page.close();
  });

  test('that the browser has none, or was told no, is said in words', async () => {
    const none = await openPlay(() => {
      Object.defineProperty(Object.getPrototypeOf(navigator), 'requestMIDIAccess', {
        configurable: true,
        value: undefined,
      });
      delete (Object.getPrototypeOf(navigator) as { requestMIDIAccess?: unknown }).requestMIDIAccess;
    });
    await connect(none.page);
    await none.page.getByText('This browser knows no MIDI.').waitFor();
    await none.page.close();

    const refused = await openPlay(() => {
      Object.defineProperty(navigator, 'requestMIDIAccess', {
        configurable: true,
        value: () => Promise.reject(new DOMException('no', 'NotAllowedError')),
      });
    });
    await connect(refused.page);
    await refused.page.getByText('The browser was told not to use MIDI here.').waitFor();
    expect([...none.errors, ...refused.errors]).toEqual([]);
    await refused.page.close();
  });
});
