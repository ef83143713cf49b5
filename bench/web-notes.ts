/**
 * A note that is changed in Study, as its writer waits for it: from the key's event to its sound, to what is said of it, and to its
 * picture, twelve steps up and down in the demo. Run from the repository's root: npx tsx bench/web-notes.ts
 *
 * Limits (medians): heard 100 ms, engraved 300 ms. Beside them, in the same run: what the same edit costs where the whole lesson is
 * made anew, against the maker that remembers (processor time, in Node).
 */
import { readFileSync } from 'node:fs';
import { availableParallelism, loadavg } from 'node:os';
import {
  DEFAULT_CHOICES,
  keyByStep,
  lessonMaker,
  makeLesson,
  pinOfStretch,
  readChart,
  stavesOf,
  type Choices,
  type PlannedSlot,
} from '@fivespan/core';
import { createEngraver } from '@fivespan/formats/engraving';
import { writeMusicXml } from '@fivespan/formats/musicxml';
import type { Page } from 'playwright-core';
import { firstSound, forgetRecorded, RECORDABLE, recordingOf, recordSound } from '../checks/web/play-recorder.ts';
import { openWorkbench } from '../checks/workbench.ts';

const EDITS = 12;
const HEARD_MS = 100;
const ENGRAVED_MS = 300;

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] as number;
const told = (values: readonly number[]): string =>
  `${median(values).toFixed(0)} ms (${Math.min(...values).toFixed(0)} to ${Math.max(...values).toFixed(0)})`;

interface Costs {
  readonly whole: number;
  readonly again: number;
  readonly page: number;
  readonly line: number;
}

/** Milliseconds of processor time. */
function costOf(make: () => unknown): number {
  const from = process.cpuUsage();
  make();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
}

/** Processor time of one edit: the whole lesson and what the edit touches, all its lines engraved and one of them, in turn. */
async function costsInNode(): Promise<Costs> {
  const read = readChart(readFileSync(new URL('../examples/DEMO.chart', import.meta.url), 'utf8'));
  if (!read.ok) throw new TypeError('the demo must be a chart');
  const chart = read.value;
  const plain = makeLesson(chart, DEFAULT_CHOICES);
  const pin = pinOfStretch(plain.plan, 'chorus', plain.chorus, 4);
  const slot = plain.plan.slots[4] as PlannedSlot;
  const edited = (steps: number): Choices => {
    const notes = [{ ...pin, notes: pin.notes.map((note) => ({ ...note, key: keyByStep(slot, note.key, steps) })) }];
    const { pins } = DEFAULT_CHOICES;
    return { ...DEFAULT_CHOICES, pins: { ...pins, parts: { ...pins.parts, notes } } };
  };
  const again = lessonMaker();
  again(chart, edited(0));
  const engraver = await createEngraver();
  const engraved = (bars: { readonly from: number; readonly to: number }): unknown => {
    const xml = writeMusicXml(plain.score, { purpose: 'engraving', parts: stavesOf('piano'), bars, noteIds: true });
    return engraver.engrave(xml, { widthMm: 320, staffHeightMm: 8.4, noteIds: true, ink: 'currentColor' });
  };
  engraved({ from: 0, to: plain.score.bars.length });
  const costs = Array.from({ length: EDITS }, (_, index) => {
    const choices = edited(1 + (index % 3));
    return {
      whole: costOf(() => makeLesson(chart, choices)),
      again: costOf(() => again(chart, choices)),
      page: costOf(() => engraved({ from: 0, to: plain.score.bars.length })),
      line: costOf(() => engraved({ from: 0, to: 8 })),
    };
  });
  const of = (name: keyof Costs): number => median(costs.map((each) => each[name]));
  return { whole: of('whole'), again: of('again'), page: of('page'), line: of('line') };
}

/** When a key went down, when something was said, and when the note stood on had a new picture. */
interface Times {
  readonly key: number;
  readonly said: number;
  readonly engraved: number;
}

/** Has the page note what becomes of the next key. */
async function watchNext(page: Page): Promise<void> {
  await page.evaluate(() => {
    const times = { key: 0, said: 0, engraved: 0 };
    Object.assign(globalThis, { times });
    addEventListener('keydown', (event) => (times.key = event.timeStamp), { capture: true, once: true });
    const before = document.querySelector('[data-spot]');
    const watcher = new MutationObserver(() => {
      const now = performance.now();
      const status = document.querySelector('[role="group"][aria-label="Change the note"] [role="status"]');
      if (times.said === 0 && times.key > 0 && status?.textContent !== said) times.said = now;
      const spot = document.querySelector('[data-spot]');
      if (times.engraved === 0 && times.key > 0 && spot !== null && spot !== before) {
        requestAnimationFrame(() => (times.engraved = performance.now()));
        watcher.disconnect();
      }
    });
    const said = document.querySelector('[role="group"][aria-label="Change the note"] [role="status"]')?.textContent;
    watcher.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
  });
}

const timesOf = (page: Page): Promise<Times> =>
  page.evaluate(() => (globalThis as unknown as { times: { key: number; said: number; engraved: number } }).times);

const { whole, again, page: all, line } = await costsInNode();
console.log(
  `processor time of an edit, ms: computed ${again.toFixed(1)}, the whole lesson ${whole.toFixed(1)}, ratio ${(again / whole).toFixed(2)}; ` +
    `its line engraved ${line.toFixed(0)}, all lines ${all.toFixed(0)}, ratio ${(line / all).toFixed(2)}`,
);

const workbench = await openWorkbench();
try {
  const { page, context } = await workbench.visit({
    ...RECORDABLE,
    reducedMotion: 'reduce',
    viewport: { width: 1280, height: 720 },
  });
  // tsx names the functions it hands to the page by a helper of its own
  await context.addInitScript('globalThis.__name = (named) => named');
  await recordSound(context);
  await page.reload();
  await page.getByRole('link', { name: 'Study', exact: true }).click();
  await page.getByRole('tab', { name: 'notes', exact: true }).click();
  await page.locator('[aria-busy="false"] [data-note][aria-label]').first().waitFor();
  await page.getByRole('button', { name: 'Change notes' }).click();
  await page.locator('[data-spot]').first().waitFor();
  await page.locator('[data-spot]').first().focus();
  await page.keyboard.press('ArrowUp'); // the first one opens the sound
  await page.waitForTimeout(4_000);
  const heard: number[] = [];
  const said: number[] = [];
  const engraved: number[] = [];
  for (let index = 0; index < EDITS; index++) {
    // the note before it has died away
    await page.waitForTimeout(2_500);
    await forgetRecorded(page);
    await watchNext(page);
    await page.keyboard.press(index % 2 === 0 ? 'ArrowUp' : 'ArrowDown');
    await page.waitForTimeout(3_000);
    const times = await timesOf(page);
    said.push(times.said - times.key);
    engraved.push(times.engraved === 0 ? Number.POSITIVE_INFINITY : times.engraved - times.key);
    const recording = await recordingOf(page);
    const frame = firstSound(recording);
    const stamp = await page.evaluate(() => {
      const { clock } = (globalThis as unknown as { fivespanRecorder: { clock: AudioContext } }).fivespanRecorder;
      const { contextTime = 0, performanceTime = 0 } = clock.getOutputTimestamp();
      return { contextTime, performanceTime };
    });
    if (frame !== undefined) {
      heard.push(stamp.performanceTime + (frame / recording.sampleRate - stamp.contextTime) * 1000 - times.key);
    }
  }
  console.log(`heard after ${told(heard)}, limit ${HEARD_MS}; ${heard.length} of ${EDITS} were recorded`);
  console.log(`said after ${told(said)}`);
  console.log(`engraved after ${told(engraved)}, limit ${ENGRAVED_MS}`);
  console.log(`cores: ${availableParallelism()}, load: ${loadavg()[0]?.toFixed(1)}`);
  if (median(heard) > HEARD_MS || median(engraved) > ENGRAVED_MS) process.exitCode = 1;
} finally {
  await workbench.close();
}
