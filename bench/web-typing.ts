/**
 * Typing on the chart screen, as the one who types waits for it: from the key's event to the next paint, 200 keystrokes
 * in the bars and 200 in the text form, on the demo. Run from the repository's root: npx tsx bench/web-typing.ts
 *
 * Idle first, then while a twelve-key pack is being made in the same page. Limits (95th percentile): under 50 ms, and at most
 * twice the idle figure.
 */
import { availableParallelism } from 'node:os';
import type { Page } from 'playwright-core';
import { openWorkbench } from '../checks/workbench.ts';

const KEYSTROKES = 200;
const LIMIT_MS = 50;
const LIMIT_RATIO = 2;

/** What is typed: chords as one writes them, right and halfway right. */
const CHORDS = ['Gm7', 'C7(b9)', 'Bbmaj7', 'Ebm7 Ab7', 'F#m7b5', 'B7alt', 'Em6', 'D7 / / Db7', 'Cmaj7/E'];

/** Pauses between keys, a fast typist's, never in step with the screen's frames. */
const pauseMs = (index: number): number => 55 + ((index * 37) % 50);

/** Has the page note, for each key, how long it took to the frame that shows it. */
async function watchPaints(page: Page): Promise<void> {
  await page.evaluate(() => {
    const waits: number[] = [];
    Object.assign(globalThis, { waits });
    const channel = new MessageChannel();
    const begun: number[] = [];
    // a message posted in a frame's callback comes when the frame has been handed over
    channel.port1.addEventListener('message', () => {
      const from = begun.shift();
      if (from !== undefined) waits.push(performance.now() - from);
    });
    channel.port1.start();
    addEventListener(
      'keydown',
      (event) => {
        requestAnimationFrame(() => {
          begun.push(event.timeStamp);
          channel.port2.postMessage(null);
        });
      },
      true,
    );
  });
}

/** What is typed for each chord, and the keys that go on from it: right again after each. */
function* chordsFor(place: 'bars' | 'text'): Generator<readonly string[]> {
  for (let turn = 0; ; turn++) {
    const chord = [...(CHORDS[turn % CHORDS.length] as string)];
    if (place === 'bars') yield [...chord, 'Tab'];
    else yield turn % 4 === 3 ? [...chord, 'Enter'] : [...chord, ' ', '|', ' '];
  }
}

async function goToChart(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Chart', exact: true }).click();
  await page.getByRole('grid', { name: 'Bars' }).waitFor();
}

async function percentile95(
  page: Page,
  place: 'bars' | 'text',
  keepBusy: () => Promise<void> = async () => undefined,
): Promise<{ readonly p95Ms: number; readonly medianMs: number; readonly worstMs: number }> {
  const focus = async (): Promise<void> => {
    if (place === 'bars') await page.locator('[data-bar="0"]').focus();
    else {
      await page.getByRole('textbox', { name: 'Text', exact: true }).focus();
      await page.keyboard.press('Control+End');
    }
  };
  await focus();
  await page.evaluate(() => {
    (globalThis as unknown as { waits: number[] }).waits.length = 0;
  });
  let typed = 0;
  let chords = 0;
  for (const keys of chordsFor(place)) {
    if (typed >= KEYSTROKES) break;
    await keepBusy();
    // sixteen bars further the demo ends: back to its beginning
    if (place === 'bars' && chords++ % 16 === 0) await focus();
    for (const key of keys) {
      if (typed++ >= KEYSTROKES) break;
      await page.keyboard.press(key);
      await page.waitForTimeout(pauseMs(typed));
    }
  }
  const waits = await page.evaluate(() => (globalThis as unknown as { waits: number[] }).waits);
  const sorted = waits.toSorted((a, b) => a - b);
  const at = (share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] as number;
  return { p95Ms: at(0.95), medianMs: at(0.5), worstMs: at(1) };
}

async function startPack(page: Page): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: 'Pages' }).click();
  const all = page.getByRole('radio', { name: 'All round' });
  await page.getByRole('heading', { name: 'Several keys at once', exact: true }).waitFor();
  if (!(await all.isVisible())) await page.getByRole('heading', { name: 'Several keys at once', exact: true }).click();
  await all.check();
  await page.getByRole('button', { name: /^Save .*12 keys/u }).click();
}

const workbench = await openWorkbench();
try {
  const { page } = await workbench.visit({ acceptDownloads: true, chartText: true });
  await page.waitForURL(/#\/lesson\//u);
  await goToChart(page);
  await page.waitForTimeout(3_000); // the first lesson is computed, the engraver and the rest are at rest
  await watchPaints(page);
  const idle = { bars: await percentile95(page, 'bars'), text: await percentile95(page, 'text') };

  let packs = 0;
  let isMaking = false;
  page.on('download', () => {
    packs++;
    isMaking = false;
  });
  /** A pack that is finished is made again, until all is typed. */
  const keepBusy = async (): Promise<void> => {
    if (isMaking) return;
    const focused = await page.evaluate(() => document.activeElement?.tagName === 'TEXTAREA');
    isMaking = true;
    await startPack(page);
    await goToChart(page);
    if (focused) {
      await page.getByRole('textbox', { name: 'Text', exact: true }).focus();
      await page.keyboard.press('Control+End');
    } else await page.locator('[data-bar="0"]').focus();
  };
  await keepBusy();
  const busy = { bars: await percentile95(page, 'bars', keepBusy), text: await percentile95(page, 'text', keepBusy) };

  let isWithin = true;
  for (const place of ['bars', 'text'] as const) {
    const ratio = busy[place].p95Ms / idle[place].p95Ms;
    isWithin &&= busy[place].p95Ms < LIMIT_MS && ratio <= LIMIT_RATIO;
    const figures = (set: (typeof idle)[typeof place]): string =>
      `${set.p95Ms.toFixed(1)} ms (median ${set.medianMs.toFixed(1)}, worst ${set.worstMs.toFixed(1)})`;
    console.log(
      `${place}: 95th percentile idle ${figures(idle[place])}, while a pack is made ${figures(busy[place])}, ` +
        `ratio ${ratio.toFixed(2)} (limits ${LIMIT_MS} ms, ${LIMIT_RATIO})`,
    );
  }
  console.log(
    `packs finished meanwhile: ${packs}; one being made at the end: ${isMaking}; cores: ${availableParallelism()}`,
  );
  if (!isWithin) process.exitCode = 1;
} finally {
  await workbench.close();
}
