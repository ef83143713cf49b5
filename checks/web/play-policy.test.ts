/**
 * Source: issue 'The workbench', 'Nothing gets in or out': strict content security policy. The checks that record sound set it
 * aside for their recorder; here it holds, and what is heard is measured by the browser's own analyser (Web Audio API 1.1, 1.8).
 */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

/** Listens beside whatever goes to the loudspeaker, and notes what the policy refuses. */
function listen(): void {
  const meter = { peak: 0, refused: [] as string[] };
  Object.assign(globalThis, { meter });
  document.addEventListener('securitypolicyviolation', ({ effectiveDirective }) =>
    meter.refused.push(effectiveDirective),
  );
  const connect = Reflect.get(AudioNode.prototype, 'connect') as (...rest: unknown[]) => unknown;
  AudioNode.prototype.connect = function (this: AudioNode, ...rest: unknown[]): never {
    if (rest[0] instanceof AudioDestinationNode) {
      const analyser = new AnalyserNode(this.context, { fftSize: 2048 });
      connect.call(this, analyser);
      const heard = new Float32Array(2048);
      setInterval(() => {
        analyser.getFloatTimeDomainData(heard);
        meter.peak = heard.reduce((most, sample) => Math.max(most, Math.abs(sample)), meter.peak);
      }, 20);
    }
    return connect.apply(this, rest) as never;
  } as never;
}

/** The loudest sample heard since it was last asked. */
const peakSince = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const { meter } = globalThis as unknown as { meter: { peak: number } };
    const { peak } = meter;
    meter.peak = 0;
    return peak;
  });

/** Puts a keyboard in place of the browser's MIDI, already allowed. */
function fakeKeyboard(): void {
  const input = Object.assign(new EventTarget(), { type: 'input', name: 'Stage', id: 'Stage', state: 'connected' });
  const access = Object.assign(new EventTarget(), { inputs: new Map([['Stage', input]]), outputs: new Map() });
  Object.assign(globalThis, {
    strike: (...bytes: number[]) =>
      input.dispatchEvent(Object.assign(new Event('midimessage'), { data: Uint8Array.from(bytes) })),
  });
  Object.defineProperty(navigator, 'requestMIDIAccess', { configurable: true, value: () => Promise.resolve(access) });
}

describe.skipIf(NO_CHROMIUM)('under the content policy as it is', () => {
  test('a programme plays and a keyboard sounds', async () => {
    const { page, errors } = await workbench.visit({
      settings: { cautionsSeen: true },
      before: async (context) => {
        await context.addInitScript(listen);
        await context.addInitScript(fakeKeyboard);
      },
    });
    await page.getByRole('link', { name: 'Play', exact: true }).click();
    await page.getByText(/^Ready:/u).waitFor();
    await page.getByText('Programme, players, keyboard and pedal').click();
    await page.getByRole('button', { name: 'Connect a MIDI keyboard' }).click();
    await page.getByText('Connected: Stage.', { exact: true }).waitFor();
    expect(await peakSince(page)).toBe(0);
    // nothing sounds: what is heard now is the keyboard
    await page.evaluate(() =>
      (globalThis as unknown as { strike: (...bytes: number[]) => void }).strike(0x90, 60, 100),
    );
    await expect.poll(() => peakSince(page)).toBeGreaterThan(0.01);
    await page.evaluate(() => (globalThis as unknown as { strike: (...bytes: number[]) => void }).strike(0x80, 60, 0));
    await expect.poll(() => peakSince(page), { timeout: 10_000 }).toBeLessThan(1e-4);

    await page.getByRole('button', { name: 'Start', exact: true }).click();
    // the deck's own position, by the audio clock
    const bar = page.locator('[data-bar-now]');
    await bar.filter({ hasText: /^count-in/u }).waitFor();
    await bar.filter({ hasText: /^bar 1 /u }).waitFor();
    await bar.filter({ hasText: /^bar 2 /u }).waitFor();
    expect(await peakSince(page)).toBeGreaterThan(0.01);
    const refused = await page.evaluate(
      () => (globalThis as unknown as { meter: { refused: string[] } }).meter.refused,
    );
    expect(refused).toEqual([]);
    expect(errors).toEqual([]);
    await page.close();
  });
});
