/**
 * Play view on the demo, three keys: what a frame costs, how many are late, how soon it sounds, whether sound was ever late.
 * Run from the repository's root: npx tsx bench/web-frames.ts
 *
 * Script time comes from the browser's own trace of the page's thread (everything between two animation frames that runs script or
 * draws a page's boxes). Late frames are compared with those of the same page at rest, in the same run. The limit is a frame: 1000/60 ms.
 */
import { availableParallelism } from 'node:os';
import type { Browser, Page } from 'playwright-core';
import { openWorkbench } from '../checks/workbench.ts';
import { firstSound, forgetRecorded, RECORDABLE, recordingOf, recordSound } from '../checks/web/play-recorder.ts';

const FRAME_MS = 1000 / 60;
const WATCHED_SECONDS = 12;
const STARTS = 5;

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly ts: number;
  readonly dur?: number;
  readonly pid: number;
  readonly tid: number;
  readonly args?: { readonly name?: string };
}

/** What runs script, and what is made of it before a frame is painted. */
const SCRIPT = new Set([
  'FunctionCall',
  'FireAnimationFrame',
  'RunMicrotasks',
  'EvaluateScript',
  'V8.GCScavenger',
  'MajorGC',
  'MinorGC',
]);
const DRAWING = new Set(['UpdateLayoutTree', 'Layout', 'PrePaint', 'Paint', 'Layerize', 'ParseHTML']);

const share = (list: readonly number[], at: number): number =>
  list.toSorted((a, b) => a - b)[Math.floor(list.length * at)] ?? 0;
const mean = (list: readonly number[]): number => list.reduce((sum, each) => sum + each, 0) / Math.max(1, list.length);

/** Milliseconds of each frame that events of these names take, nested ones counted once. */
function timesByFrame(events: readonly TraceEvent[], names: ReadonlySet<string>): number[] {
  const frames = events.filter(({ name }) => name === 'FireAnimationFrame').map(({ ts }) => ts);
  const times = frames.map(() => 0);
  let until = 0;
  let frame = 0;
  for (const { ts, dur = 0 } of events.filter(({ name, ph }) => names.has(name) && ph === 'X')) {
    while (frame + 1 < frames.length && (frames[frame + 1] ?? Infinity) <= ts) frame++;
    const from = Math.max(ts, until);
    const to = ts + dur;
    if (to > from) times[frame] = (times[frame] ?? 0) + (to - from) / 1000;
    until = Math.max(until, to);
  }
  return times;
}

/** The page's thread while something goes on. */
async function traced(browser: Browser, page: Page, meanwhile: () => Promise<void>): Promise<readonly TraceEvent[]> {
  await browser.startTracing(page, { categories: ['devtools.timeline', 'v8', 'disabled-by-default-v8.gc'] });
  await meanwhile();
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: TraceEvent[] };
  const main = traceEvents.filter(({ name, args }) => name === 'thread_name' && args?.name === 'CrRendererMain');
  const busiest = main
    .map(({ pid, tid }) => traceEvents.filter((each) => each.pid === pid && each.tid === tid))
    .toSorted((a, b) => b.length - a.length)[0];
  return (busiest ?? []).toSorted((a, b) => a.ts - b.ts);
}

/** Gaps between frames of the page, in milliseconds, over some seconds. */
function frameGaps(page: Page, seconds: number): Promise<number[]> {
  return page.evaluate(
    (watched) =>
      new Promise<number[]>((resolve) => {
        const gaps: number[] = [];
        let last = performance.now();
        const end = last + watched * 1000;
        requestAnimationFrame(function frame(now) {
          gaps.push(now - last);
          last = now;
          if (now < end) requestAnimationFrame(frame);
          else resolve(gaps.slice(1));
        });
      }),
    seconds,
  );
}

/** Milliseconds from a click on Start to the first sample that leaves the loudspeaker. */
async function startLatency(page: Page): Promise<number> {
  await forgetRecorded(page);
  await page.evaluate(() => {
    addEventListener('click', () => Object.assign(globalThis, { clickedAt: performance.now() }), {
      capture: true,
      once: true,
    });
  });
  await page.getByRole('button', { name: /^(Start|Once more|Go on)/u }).click();
  await page
    .locator('[data-bar-now]')
    .filter({ hasText: /^count-in/u })
    .waitFor();
  await page.waitForTimeout(600);
  const recording = await recordingOf(page);
  const frame = firstSound(recording);
  const { clickedAt, contextTime, performanceTime } = await page.evaluate(() => {
    const kept = globalThis as unknown as { clickedAt: number; fivespanRecorder: { clock: AudioContext } };
    const stamp = kept.fivespanRecorder.clock.getOutputTimestamp();
    return {
      clickedAt: kept.clickedAt,
      contextTime: stamp.contextTime ?? 0,
      performanceTime: stamp.performanceTime ?? 0,
    };
  });
  if (frame === undefined) throw new Error('nothing sounds');
  return performanceTime + (frame / recording.sampleRate - contextTime) * 1000 - clickedAt;
}

const workbench = await openWorkbench();
const { page, context } = await workbench.visit({
  viewport: { width: 1280, height: 900 },
  settings: { cautionsSeen: true },
  ...RECORDABLE,
});
// a compiler of this file may name functions; the page has no such helper
await context.addInitScript('globalThis.__name = (each) => each');
await recordSound(context);
await page.reload();
await page.getByRole('link', { name: 'Play', exact: true }).click();
const opened = Date.now();
await page.getByText(/^Ready:/u).waitFor({ timeout: 60_000 });
const readyMs = Date.now() - opened;
await page.getByRole('combobox', { name: 'Key of chorus 2', exact: true }).selectOption('Ab major');
await page.getByRole('combobox', { name: 'Key of chorus 3', exact: true }).selectOption('Db major');
await page.getByText('Kept with the lesson.').waitFor();
await page.getByText(/^Ready:/u).waitFor({ timeout: 60_000 });

const resting = await frameGaps(page, WATCHED_SECONDS / 2);
const latencies: number[] = [];
for (let start = 0; start < STARTS; start++) {
  latencies.push(await startLatency(page));
  await page.keyboard.press(' ');
  await page.getByRole('button', { name: /^Go on/u }).waitFor();
  await page.getByRole('button', { name: 'Back to the programme' }).click();
}
await page.getByRole('button', { name: 'Start' }).click();
await page.locator('[data-bar-now]').filter({ hasText: 'bar 1 of 16' }).waitFor();
let playing: number[] = [];
const events = await traced(workbench.browser, page, async () => {
  playing = await frameGaps(page, WATCHED_SECONDS);
});
const keys = await page.locator('.key').count();
const stats = await page.evaluate(() => {
  const { clock } = (globalThis as unknown as { fivespanRecorder: { clock: AudioContext } }).fivespanRecorder;
  const found = (clock as unknown as { playbackStats?: Record<string, number> }).playbackStats;
  return found === undefined ? null : { underruns: found['underrunEvents'], seconds: found['totalDuration'] };
});

const script = timesByFrame(events, SCRIPT);
const drawing = timesByFrame(events, DRAWING);
const late = (gaps: readonly number[]): string => {
  const count = gaps.filter((gap) => gap > FRAME_MS * 1.5).length;
  return `${count} of ${gaps.length} (${((count / gaps.length) * 100).toFixed(1)} %), longest gap ${Math.max(...gaps).toFixed(0)} ms`;
};
const line = (list: readonly number[]): string =>
  `mean ${mean(list).toFixed(2)} ms, 95 % under ${share(list, 0.95).toFixed(2)} ms, most ${Math.max(...list).toFixed(2)} ms` +
  ` (${((share(list, 0.95) / FRAME_MS) * 100).toFixed(0)} % of a frame)`;
console.log(`${availableParallelism()} cores, ${keys} keys drawn, ${WATCHED_SECONDS} s of playing`);
console.log(`script a frame:       ${line(script)}`);
console.log(`style, layout, paint: ${line(drawing)}`);
console.log(`late frames, playing: ${late(playing)}`);
console.log(`late frames, at rest: ${late(resting)}`);
console.log(`from the play screen to ready: ${readyMs} ms`);
console.log(
  `from click to first sample, ${STARTS} starts: ${latencies.map((each) => `${each.toFixed(0)} ms`).join(', ')}`,
);
console.log(
  stats === null
    ? 'late sound: this browser does not tell'
    : `late sound: ${stats.underruns} times in ${Number(stats.seconds).toFixed(0)} s`,
);
await page.close();
await workbench.close();
