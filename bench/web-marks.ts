/**
 * What one plays, and what one may play, as the eye and the ear have it: a key that is struck, from its message to its ring and to its
 * sound; a free hand's tabs, from the bar line that is heard to the frame that shows the next chord's.
 * Run from the repository's root: npx tsx bench/web-marks.ts
 *
 * Limits (medians): the ring in the next frame after the strike; the sound in the next block that the audio thread begins, a block being
 * what its hardware asks for at a time (baseLatency, of 128-frame quanta); the tabs no more than a frame after the bar line.
 */
import { availableParallelism, loadavg } from 'node:os';
import type { Page } from 'playwright-core';
import { fakeMidi, plug } from '../checks/web/fake-midi.ts';
import {
  firstSound,
  forgetRecorded,
  peakBetween,
  RECORDABLE,
  recordingOf,
  recordSound,
} from '../checks/web/play-recorder.ts';
import { barShown, openWorkbench } from '../checks/workbench.ts';

const STRIKES = 24;
const CHART_TEXT =
  'title: Ford Rivers\nkey: Eb major\ntempo: 160\n\nA:\n| Fm7 | Bb7 | Ebmaj7 | Abm7 |\n| Gm7 | C7alt | Fm7 | Bb7 |\n';
const BAR_SECONDS = (4 * 60) / 160;

const median = (list: readonly number[]): number => list.toSorted((a, b) => a - b)[Math.floor(list.length / 2)] ?? NaN;
const told = (list: readonly number[], digits = 1): string =>
  `${median(list).toFixed(digits)} (${Math.min(...list).toFixed(digits)} to ${Math.max(...list).toFixed(digits)}, ${list.length} measured)`;

/** Strikes a key at a moment that has nothing to do with frames. @returns frames until its ring is painted, and milliseconds */
function ringOf(page: Page, key: number): Promise<{ readonly frames: number; readonly ms: number }> {
  return page.evaluate(
    (struck) =>
      new Promise<{ frames: number; ms: number }>((resolve) => {
        const { fakeMidi } = globalThis as unknown as { fakeMidi: { send(name: string, ...bytes: number[]): void } };
        setTimeout(
          () => {
            const from = performance.now();
            let frames = 0;
            fakeMidi.send('Stage', 0x90, struck, 90);
            requestAnimationFrame(function look(now) {
              frames++;
              if (document.querySelector(`[data-stage-keys] [data-pressed="${struck}"]`) === null && frames < 60) {
                requestAnimationFrame(look);
                return;
              }
              fakeMidi.send('Stage', 0x80, struck, 0);
              resolve({ frames, ms: now - from });
            });
          },
          20 + Math.random() * 60,
        );
      }),
    key,
  );
}

/** Strikes a key while nothing else sounds. @returns blocks from the strike to the first sample */
async function soundOf(page: Page, key: number): Promise<number | undefined> {
  await forgetRecorded(page);
  const at = await page.evaluate((struck) => {
    const kept = globalThis as unknown as {
      fakeMidi: { send(name: string, ...bytes: number[]): void };
      fivespanRecorder: { clock: AudioContext };
    };
    const { currentTime, sampleRate, baseLatency } = kept.fivespanRecorder.clock;
    kept.fakeMidi.send('Stage', 0x90, struck, 100);
    return { frame: currentTime * sampleRate, block: Math.max(128, baseLatency * sampleRate) };
  }, key);
  await page.waitForTimeout(500);
  const recording = await recordingOf(page);
  // what still sounded when it was struck is no answer to it
  const frame = peakBetween(recording, 0, at.frame) > 0 ? undefined : firstSound(recording);
  await page.evaluate((struck) => {
    (globalThis as unknown as { fakeMidi: { send(name: string, ...bytes: number[]): void } }).fakeMidi.send(
      'Stage',
      0x80,
      struck,
      0,
    );
  }, key);
  await page.waitForTimeout(1_500);
  return frame === undefined ? undefined : (frame - at.frame) / at.block;
}

/** Every change of the tabs from now on, with the moment of the audio clock that is heard in its frame, and in the frame before. */
function watchTabs(page: Page): Promise<void> {
  return page.evaluate(() => {
    const changes: { heard: number; before: number }[] = [];
    Object.assign(globalThis, { changes });
    const { clock } = (globalThis as unknown as { fivespanRecorder: { clock: AudioContext } }).fivespanRecorder;
    let last = '';
    let before = 0;
    const after = new MessageChannel();
    after.port1.addEventListener('message', () => {
      const { contextTime = 0, performanceTime = 0 } = clock.getOutputTimestamp();
      const heard = Math.min(clock.currentTime, contextTime + (performance.now() - performanceTime) / 1000);
      const bar = document.querySelector('[data-bar-now]')?.textContent ?? '';
      const tabs = [
        ...document.querySelectorAll('[data-stage-keys] [data-tab="may"], [data-stage-keys] [data-tab="now"]'),
      ]
        .map((each) => each.getAttribute('data-key-of-tab'))
        .join(' ');
      if (bar.trim().startsWith('bar') && tabs !== last) {
        if (last !== '') changes.push({ heard, before });
        last = tabs;
      }
      before = heard;
    });
    after.port1.start();
    requestAnimationFrame(function frame() {
      requestAnimationFrame(frame);
      after.port2.postMessage(null);
    });
  });
}

const workbench = await openWorkbench();
try {
  const { page, context } = await workbench.visit({
    viewport: { width: 1024, height: 768 },
    settings: { cautionsSeen: true, way: 'free hand' },
    ...RECORDABLE,
  });
  // tsx names the functions it hands to the page by a helper of its own
  await context.addInitScript('globalThis.__name = (named) => named');
  await context.addInitScript(fakeMidi);
  await recordSound(context);
  await page.reload();
  await page.getByRole('link', { name: 'Lessons', exact: true }).click();
  await page.getByRole('button', { name: 'Paste a chart' }).click();
  await page.getByLabel('Chart text').fill(CHART_TEXT);
  await page.getByRole('button', { name: 'Make the lesson' }).click();
  await page.getByRole('link', { name: 'Play', exact: true }).click();
  await page.getByText(/^Ready:/u).waitFor();
  await page.getByText('Programme, players, keyboard and pedal').click();
  await page.getByRole('button', { name: 'Connect a MIDI keyboard' }).click();
  await plug(page, 'Stage');
  await page.getByText('Connected: Stage.', { exact: true }).waitFor();

  const blocks: number[] = [];
  for (let strike = 0; strike < STRIKES / 2; strike++) {
    const found = await soundOf(page, 48 + strike);
    // the grand's recordings are on their way at first
    if (found !== undefined) blocks.push(found);
  }

  await page.getByRole('checkbox', { name: 'Again and again' }).uncheck();
  await forgetRecorded(page);
  await page.getByRole('button', { name: 'Start', exact: true }).click();
  await page.locator('[data-stage-keys] [data-tab]').first().waitFor();
  await watchTabs(page);
  const rings: { readonly frames: number; readonly ms: number }[] = [];
  for (let strike = 0; strike < STRIKES; strike++) rings.push(await ringOf(page, 60 + (strike % 12)));
  await barShown(page, 'bar 8 of 8');
  const { changes, first, rate } = await page.evaluate(() => {
    const kept = globalThis as unknown as {
      changes: { heard: number; before: number }[];
      fivespanRecorder: { rate: number };
    };
    return { changes: kept.changes, first: 0, rate: kept.fivespanRecorder.rate };
  });
  const begun = (firstSound(await recordingOf(page)) ?? first) / rate;
  // how far into a bar, counted from the first click of the count-in, the frame is heard that first shows other tabs
  const late = changes.map(({ heard, before }) => {
    const bar = Math.round((heard - begun) / BAR_SECONDS);
    const line = begun + bar * BAR_SECONDS;
    return { ms: (heard - line) * 1000, isFirstFrame: before < line };
  });

  console.log(
    `ring: frames after the strike ${told(
      rings.map(({ frames }) => frames),
      0,
    )}, ms ${told(rings.map(({ ms }) => ms))}; limit 1 frame`,
  );
  console.log(`sound: blocks after the strike ${told(blocks, 2)}; limit 1`);
  const onTime = late.filter(({ isFirstFrame }) => isFirstFrame).length;
  console.log(
    `tabs: ms after the bar line ${told(late.map(({ ms }) => ms))}; in the first frame after it ${onTime} of ${late.length}; limit 1 frame`,
  );
  console.log(`cores: ${availableParallelism()}, load: ${loadavg()[0]?.toFixed(1)}`);
  // not the milliseconds: a sound card that is none moves its clock by some 40 ms at a time, and frames lie between
  const isOver = median(rings.map(({ frames }) => frames)) > 1 || median(blocks) > 1 || onTime < late.length;
  if (isOver) process.exitCode = 1;
} finally {
  await workbench.close();
}
