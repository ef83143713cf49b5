/**
 * Source: issue 'The workbench', Play and Checks: "play a programme of three keys (the audio clock and the shown thumb compared,
 * from samples and DOM)"; "Marks and music agree: what is shown is what is sounding, within one frame of the audio clock"; "count-in;
 * any bars again and again. Foot pedal, space bar and one big control start and stop"; "cautions … where practice starts".
 *
 * What should sound is rendered here in Node from the same chart and programme, and compared with what the page gave to the
 * loudspeaker, sample by sample; what should be shown is looked up in the lesson.
 */
import { readFileSync } from 'node:fs';
import {
  DEFAULT_CHOICES,
  formatKey,
  makeLesson,
  parseKey,
  playProgramme,
  readChart,
  usualProgramme,
  type Chart,
  type Key,
  type Programme,
} from '@fivespan/core';
import { markOf, noteText, shapeMarks } from '@fivespan/formats/diagram';
import { openBank } from '@fivespan/sound/bank';
import { NoteStore, renderSchedule, type StereoSound } from '@fivespan/sound/engine';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { bankFiles } from '../sound-bank.ts';
import {
  firstSound,
  forgetRecorded,
  peakBetween,
  RECORDABLE,
  recordingOf,
  recordSound,
  shownFrames,
  type Recording,
} from './play-recorder.ts';
import { barShown, openWorkbench, type Workbench } from '../workbench.ts';

/** Four bars, fast: a chorus takes four seconds. */
const CHART_TEXT = 'title: Short Walk\nkey: C major\ntempo: 240\n\nDm7 | G7 | Cmaj7 | A7alt\n';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new Error('the chart must be right');
  return read.value;
}

/** A recorded page that shows the play screen of a lesson of this chart, its programme ready. */
async function openPlay(
  chartText = CHART_TEXT,
  options: { readonly cautionsSeen?: boolean; readonly script?: () => void } = {},
): Promise<{ page: Page; context: BrowserContext; errors: string[] }> {
  const { page, context, errors } = await workbench.visit({
    viewport: { width: 1280, height: 900 },
    settings: { cautionsSeen: options.cautionsSeen ?? true },
    ...RECORDABLE,
  });
  await recordSound(context);
  if (options.script !== undefined) await context.addInitScript(options.script);
  await page.reload();
  await page.getByRole('link', { name: 'Lessons', exact: true }).click();
  await page.getByRole('button', { name: 'Paste a chart' }).click();
  await page.getByLabel('Chart text').fill(chartText);
  await page.getByRole('button', { name: 'Make the lesson' }).click();
  await page.getByRole('link', { name: 'Play', exact: true }).click();
  await page.getByText(/^Ready:/u).waitFor();
  await page.getByText('Programme, players, keyboard and pedal').click();
  return { page, context, errors };
}

const control = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });

/** How much of a sound is not another one, by energy, from one frame of the audio clock on: 0 the same, 1 nothing alike. */
function unlike({ blocks }: Recording, sound: StereoSound, beginsAt: number, gain: number, seconds: number): number {
  let apart = 0;
  let whole = 0;
  const frames = Math.round(seconds * sound.sampleRate);
  for (const { frame, left, right } of blocks) {
    for (let index = 0; index < left.length; index++) {
      const at = frame + index - beginsAt;
      if (at < 0 || at >= frames) continue;
      const wantedLeft = (sound.left[at] ?? 0) * gain;
      const wantedRight = (sound.right[at] ?? 0) * gain;
      apart += ((left[index] ?? 0) - wantedLeft) ** 2 + ((right[index] ?? 0) - wantedRight) ** 2;
      whole += wantedLeft ** 2 + wantedRight ** 2;
    }
  }
  return apart / whole;
}

async function soundOf(
  chart: Chart,
  programme: Programme,
  sampleRate: number,
): Promise<StereoSound & { readonly played: NonNullable<ReturnType<typeof playProgramme>> }> {
  const bank = await openBank(readFileSync((await bankFiles()).web), 'web');
  const played = playProgramme(chart, DEFAULT_CHOICES, programme);
  if (!bank.ok || played === undefined) throw new Error('must be there');
  const sound = renderSchedule(new NoteStore(bank.value, sampleRate), played);
  if (sound === undefined) throw new Error('nobody cancelled this');
  return { ...sound, played };
}

/** The thumb that should be shown at a place of a played programme; empty before the first chorus and after the last. */
function thumbTeller(chart: Chart, played: NonNullable<ReturnType<typeof playProgramme>>): (seconds: number) => string {
  const lessons = new Map<string, ReturnType<typeof makeLesson>>();
  const lessonIn = (key: Key): ReturnType<typeof makeLesson> => {
    const lesson = lessons.get(formatKey(key)) ?? makeLesson(chart, DEFAULT_CHOICES, key);
    lessons.set(formatKey(key), lesson);
    return lesson;
  };
  return (seconds) => {
    const segment = played.segments.findLast(({ startSeconds }) => startSeconds <= seconds);
    if (segment?.kind !== 'chorus') return '';
    // quarter beats: 960 ticks each
    const ticks = ((seconds - segment.startSeconds) * segment.tempoBpm * 960) / 60;
    const lesson = lessonIn(segment.key);
    const slot = lesson.plan.slots.findLast(({ analysed }) => analysed.played.startTicks <= ticks);
    if (slot?.position == null) return '';
    return noteText(slot.position.thumb) + markOf(shapeMarks(lesson), slot.position.shape);
  };
}

/** The level of the settings, unless changed. */
const LEVEL = 0.6;

describe.skipIf(NO_CHROMIUM)('play', () => {
  test('the pedal starts whatever was ticked last, and an Enter that is held presses once', async () => {
    const { page, errors } = await openPlay();
    await page.getByRole('checkbox', { name: 'Again and again' }).check();
    await page.keyboard.press('PageDown');
    await control(page, 'Stop').waitFor();
    await page.locator('[data-bar-now]').waitFor();
    await page.keyboard.down('Enter');
    await control(page, /^Go on from bar/u).waitFor();
    // as a key that is held says it again and again (UI Events, 'repeat')
    for (let again = 0; again < 3; again++) await page.keyboard.down('Enter');
    expect(await control(page, /^Go on from bar/u).count()).toBe(1);
    await page.keyboard.up('Enter');
    expect(errors).toEqual([]);
    await page.close();
  });

  test('another lesson is not played slower, nor without its bass, because the last one was', async () => {
    const { page } = await openPlay();
    await page.getByRole('slider', { name: 'Tempo' }).fill('0.5');
    await page.getByRole('button', { name: 'Mute bass' }).click();
    await page.getByText('50 % · ♩ = 120').waitFor();
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    await page.getByRole('button', { name: 'Paste a chart' }).click();
    await page.getByLabel('Chart text').fill(CHART_TEXT.replace('Short Walk', 'Other Walk'));
    await page.getByRole('button', { name: 'Make the lesson' }).click();
    await page.getByRole('link', { name: 'Play', exact: true }).click();
    await page.getByText('100 % · ♩ = 240').waitFor();
    await page.getByText('Programme, players, keyboard and pedal').click();
    expect(await page.getByRole('button', { name: 'Mute bass' }).getAttribute('aria-pressed')).toBe('false');

    // a metronome alone, two bars heard and two answered, a bar of rest before the next round
    await page.getByText('How it is played').click();
    await page.getByRole('combobox', { name: 'Metronome' }).selectOption({ label: 'every beat' });
    await page
      .getByRole('combobox', { name: 'The demonstration leaves time to answer' })
      .selectOption({ label: 'two bars and two bars' });
    await page.getByRole('textbox', { name: 'Bars of rest between rounds' }).fill('1');
    await page.getByRole('checkbox', { name: 'Again and again' }).check();
    await page.getByRole('button', { name: 'Only metronome' }).click();
    await page.getByText(/^Ready:/u).waitFor();
    // the page looks, at every change: a busy machine misses from outside what lasts two seconds
    await page.evaluate(() => {
      const seen = new Set<string>();
      Object.assign(globalThis, { seen });
      new MutationObserver(() => {
        for (const each of document.querySelectorAll('[data-turn], [data-bar-now]')) seen.add(each.textContent ?? '');
      }).observe(document.body, { subtree: true, childList: true, characterData: true });
    });
    await forgetRecorded(page);
    await control(page, 'Start').click();
    const seen = (): Promise<string[]> =>
      page.evaluate(() => [...(globalThis as unknown as { seen: Set<string> }).seen].map((each) => each.trim()));
    await expect
      .poll(async () => (await seen()).some((each) => each.startsWith('rest')), { timeout: 90_000 })
      .toBe(true);
    expect(await seen()).toEqual(expect.arrayContaining(['listen', 'your turn']));
    // a click a beat, 0.25 s, from the first on; between them it has died away
    const clicks = await recordingOf(page);
    const first = firstSound(clicks) ?? 0;
    for (let beat = 0; beat < 16; beat++) {
      const at = first + Math.round(beat * 0.25 * clicks.sampleRate);
      const loud = peakBetween(clicks, at, at + 0.05 * clicks.sampleRate);
      const after = peakBetween(clicks, at + 0.17 * clicks.sampleRate, at + 0.23 * clicks.sampleRate);
      expect(loud, `beat ${beat + 1}`).toBeGreaterThan(0.01);
      expect(after, `after beat ${beat + 1}`).toBeLessThan(loud / 4);
    }
    await page.close();
  });

  test('three keys: what sounds is the programme to the sample, what is shown is what sounds', async () => {
    const { page, errors } = await openPlay();
    await page.getByRole('combobox', { name: 'Key of chorus 2' }).selectOption({ label: 'F major' });
    await page.getByRole('combobox', { name: 'Key of chorus 3' }).selectOption({ label: 'B♭ major' });
    await page.getByText('Kept with the lesson.').waitFor();
    await page.getByText(/^Ready: 3 choruses, 15 s/u).waitFor();
    await control(page, 'Start').click();
    await control(page, 'Stop').waitFor();
    // nothing but play view and the control
    expect(await page.getByRole('navigation').count()).toBe(0);
    await control(page, 'Once more').waitFor({ timeout: 25_000 });

    const recording = await recordingOf(page);
    const chart = chartOf(CHART_TEXT);
    const usual = usualProgramme(chart, parseKey('C major') as Key);
    const keys = ['C major', 'F major', 'Bb major'].map((key) => parseKey(key) as Key);
    const programme = { ...usual, choruses: usual.choruses.map((each, row) => ({ ...each, key: keys[row] as Key })) };
    const sound = await soundOf(chart, programme, recording.sampleRate);
    const { played } = sound;

    // samples
    const first = firstSound({
      sampleRate: sound.sampleRate,
      blocks: [{ frame: 0, left: sound.left, right: sound.right }],
    });
    const began = firstSound(recording);
    if (first === undefined || began === undefined) throw new Error('nothing sounds');
    const beginsAt = began - first;
    expect(unlike(recording, sound, beginsAt, LEVEL, played.endSeconds)).toBeLessThan(1e-6);

    // the screen against the audio clock
    const thumbAt = thumbTeller(chart, played);
    const frames = await shownFrames(page);
    const shown = frames.map(({ heardSeconds, thumb }) => ({
      position: heardSeconds - beginsAt / recording.sampleRate,
      thumb,
    }));
    const changes = shown.filter(({ thumb }, index) => index > 0 && thumb !== shown[index - 1]?.thumb);
    expect(changes.length).toBeGreaterThan(6);
    let late = 0;
    let compared = 0;
    for (const [index, { position, thumb }] of shown.entries()) {
      const wanted = thumbAt(position);
      const before = shown[index - 1];
      if (wanted === '' || before === undefined) continue;
      compared++;
      if (thumb === wanted) continue;
      late++;
      // one frame late at most, never early
      expect([position, thumb]).toEqual([position, thumbAt(before.position)]);
    }
    expect(compared).toBeGreaterThan(300);
    expect(late).toBeLessThanOrEqual(changes.length);
    expect(errors).toEqual([]);
    await page.close();
  });

  test('any bars again and again, slower, and held: the loop repeats itself, a pause is silent, going on is counted in', async () => {
    const { page, errors } = await openPlay();
    await page.getByRole('combobox', { name: 'Start at chorus' }).selectOption('2');
    await page.getByRole('checkbox', { name: 'Again and again' }).check();
    await page.getByRole('combobox', { name: 'Again and again from bar' }).selectOption('2');
    await page.getByRole('combobox', { name: 'Again and again to bar' }).selectOption('3');
    await control(page, 'Start').click();
    const bar = page.locator('[data-bar-now]');
    await bar.filter({ hasText: /^count-in/u }).waitFor();
    for (const each of [2, 3, 2, 3, 2, 3, 2]) await barShown(page, `bar ${each} of 4`);
    await page.getByText('chorus 2 of 3 · bars 2–3, again and again').waitFor();
    expect(await page.locator('[data-key-now]').innerText()).toBe('C major');
    expect(await page.locator('[data-tempo-now]').innerText()).toBe('♩ = 240');
    // two bars at 240: two seconds; from the second time round each is like the one before
    const recording = await recordingOf(page);
    const began = firstSound(recording);
    if (began === undefined) throw new Error('nothing sounds');
    const { sampleRate } = recording;
    const countIn = 2 * sampleRate;
    const second = samplesBetween(recording, began + countIn + 2 * sampleRate, began + countIn + 3.5 * sampleRate);
    const third = samplesBetween(recording, began + countIn + 4 * sampleRate, began + countIn + 5.5 * sampleRate);
    const first = samplesBetween(recording, began, began + 1.5 * sampleRate);
    expect(apartness(second, third)).toBeLessThan(0.01);
    expect(apartness(second, first)).toBeGreaterThan(0.5);

    await page.keyboard.press('PageDown');
    await control(page, 'Go on from bar 2').waitFor();
    await forgetRecorded(page);
    await page.waitForFunction(
      () => (globalThis as unknown as { fivespanRecorder: { blocks: unknown[] } }).fivespanRecorder.blocks.length > 8,
    );
    const held = await recordingOf(page);
    const last = held.blocks.at(-1)?.frame ?? 0;
    expect(peakBetween(held, last - 0.1 * sampleRate, last + 2048)).toBe(0);

    // half the tempo, without the loop, from another bar
    await page.getByText('Adjust').click();
    await page.getByRole('slider', { name: 'Tempo' }).fill('0.5');
    await page.getByText('50 % · ♩ = 120').waitFor();
    await page.getByRole('checkbox', { name: 'Again and again' }).uncheck();
    await page.getByRole('combobox', { name: 'Start at bar' }).selectOption('4');
    await forgetRecorded(page);
    await control(page, 'Go on from bar 4').click();
    await bar.filter({ hasText: /^count-in/u }).waitFor();
    await bar.filter({ hasText: 'bar 4 of 4' }).waitFor();
    const frames = await shownFrames(page);
    const countedFrom = frames.find(({ bar: shown }) => shown.startsWith('count-in'))?.heardSeconds ?? 0;
    const playedFrom = frames.find(({ bar: shown }) => shown.startsWith('bar 4'))?.heardSeconds ?? 0;
    // two bars of four beats at 120
    expect(playedFrom - countedFrom).toBeGreaterThan(3.9);
    expect(playedFrom - countedFrom).toBeLessThan(4.1);
    expect(errors).toEqual([]);
    await page.close();
  });

  test('who is muted is not heard, who is solo is alone', async () => {
    const { page } = await openPlay();
    for (const player of ['left hand', 'bass']) {
      await page.getByRole('button', { name: `Mute ${player}` }).click();
    }
    await page.getByRole('button', { name: 'Only bass' }).click();
    await control(page, 'Start').click();
    // bass alone, and muted: nobody
    await page
      .locator('[data-bar-now]')
      .filter({ hasText: /bar [2-4] of 4/u })
      .waitFor();
    expect(firstSound(await recordingOf(page))).toBeUndefined();
    await page.getByText('Adjust').click();
    await page.getByRole('button', { name: 'Mute bass' }).click();
    await expect.poll(async () => firstSound(await recordingOf(page)), { timeout: 30_000 }).toBeDefined();
    await page.close();
  });

  test('cautions come before the first start, once; one line of them stays', async () => {
    const { page, errors } = await openPlay(CHART_TEXT, { cautionsSeen: false });
    await page.getByText('Moderate loudness. Five minutes’ rest in every half hour.').waitFor();
    await page.getByRole('heading', { name: 'Play', level: 1 }).waitFor();
    // the panel that was opened answers the space bar itself while it has the focus
    await page.getByRole('main', { name: 'Play' }).focus();
    await page.keyboard.press(' ');
    const cautions = page.getByRole('alertdialog', { name: 'Before you begin' });
    await cautions.getByText('never play in pain').waitFor();
    expect(firstSound(await recordingOf(page))).toBeUndefined();
    await cautions.getByRole('button', { name: 'Not now' }).click();
    await control(page, 'Start').click();
    await cautions.getByRole('button', { name: 'Start' }).click();
    const counted = page.locator('[data-bar-now]').filter({ hasText: /^count-in/u });
    await counted.waitFor();
    await page.keyboard.press(' ');
    await page.getByRole('button', { name: /^Go on from bar 1/u }).waitFor();
    await page.keyboard.press(' ');
    await control(page, 'Stop').waitFor();
    expect(await cautions.count()).toBe(0);
    await page.keyboard.press(' ');
    await control(page, 'Back to the programme').click();
    await page.getByText(/^Ready:/u).waitFor();
    expect(errors).toEqual([]);
    await page.close();
  });

  test('the screen is kept awake while it plays, and only then', async () => {
    const { page, errors } = await openPlay(CHART_TEXT, {
      script: () => {
        const locks = { held: 0 };
        Object.assign(globalThis, { locks });
        const request = (): Promise<EventTarget & { release: () => Promise<void> }> => {
          locks.held++;
          const lock = Object.assign(new EventTarget(), {
            release: async (): Promise<void> => {
              locks.held--;
              lock.dispatchEvent(new Event('release'));
            },
          });
          return Promise.resolve(lock);
        };
        Object.defineProperty(navigator, 'wakeLock', { configurable: true, value: { request } });
      },
    });
    const held = (count: number) =>
      page.waitForFunction(
        (wanted) => (globalThis as unknown as { locks: { held: number } }).locks.held === wanted,
        count,
      );
    await held(0);
    await control(page, 'Start').click();
    await held(1);
    await page.keyboard.press(' ');
    await held(0);
    expect(errors).toEqual([]);
    await page.close();
  });

  test('the programme is edited, filled by a cycle and a ladder, kept with the lesson', async () => {
    const { page, errors } = await openPlay();
    const tempo = (row: number) =>
      page.getByRole('textbox', { name: `Tempo of chorus ${row}, beats a minute`, exact: true });
    await tempo(1).fill('90');
    await page.getByRole('button', { name: 'Move chorus 1 down' }).click();
    await page.getByRole('button', { name: 'Double chorus 2' }).click();
    await page.getByRole('checkbox', { name: 'Chorus 4: right hand' }).check();
    await page.getByRole('button', { name: 'Take chorus 1 out' }).click();
    await page.getByText(/^Ready: 3 choruses/u).waitFor();
    await page.locator('[data-saving=saved]').waitFor();
    await page.reload();
    await page.getByText(/^Ready: 3 choruses/u).waitFor();
    await page.getByText('Programme, players, keyboard and pedal').click();
    expect(await Promise.all([1, 2, 3].map((row) => tempo(row).inputValue()))).toEqual(['90', '90', '240']);
    expect(await page.getByRole('checkbox', { name: 'Chorus 3: right hand' }).isChecked()).toBe(true);

    // out of bounds: marked, not taken
    await tempo(1).fill('999');
    expect(await tempo(1).getAttribute('aria-invalid')).toBe('true');
    await tempo(1).blur();
    expect(await tempo(1).inputValue()).toBe('90');

    await page.getByText('Fill the table').click();
    await page.getByRole('combobox', { name: 'Keys' }).last().selectOption('fourths');
    // bars of a second: more rows than a programme has take less than two hours
    await page.getByRole('textbox', { name: 'Tempo', exact: true }).fill('400');
    // the other end is the teacher's: it stays
    expect(await page.getByRole('textbox', { name: 'up or down to' }).inputValue()).toBe('90');
    await page.getByRole('textbox', { name: 'up or down to' }).fill('350');
    await page.getByRole('textbox', { name: 'in steps of' }).fill('1');
    await page.getByRole('textbox', { name: 'Choruses in each' }).fill('2');
    await page.getByText('A programme has at most 1200 choruses.').waitFor();
    expect(await page.getByRole('button', { name: 'Replace the table' }).isDisabled()).toBe(true);
    await page.getByRole('textbox', { name: 'Choruses in each' }).fill('1');
    await page.getByRole('textbox', { name: 'in steps of' }).fill('10');
    await page.getByRole('textbox', { name: 'Tempo', exact: true }).fill('200');
    await page.getByRole('textbox', { name: 'up or down to' }).fill('220');
    await page.getByText(/^Makes 36 choruses/u).waitFor();
    await page.getByRole('button', { name: 'Replace the table' }).click();
    await page.getByText(/^Ready: 36 choruses/u).waitFor();
    expect(await page.getByRole('combobox', { name: 'Key of chorus 2', exact: true }).inputValue()).toBe('F major');
    expect(await tempo(36).inputValue()).toBe('220');
    await page.getByRole('button', { name: 'Back to the usual' }).click();
    await page.getByText(/^Ready: 3 choruses/u).waitFor();
    expect(errors).toEqual([]);
    await page.close();
  });
});

/** The left channel between two frames of the audio clock; what was lost is silence. */
function samplesBetween({ blocks }: Recording, from: number, to: number): Float32Array {
  const samples = new Float32Array(Math.round(to) - Math.round(from));
  for (const { frame, left } of blocks) {
    for (let index = 0; index < left.length; index++) {
      const at = frame + index - Math.round(from);
      if (at >= 0 && at < samples.length) samples[at] = left[index] ?? 0;
    }
  }
  return samples;
}

/** How much of one sound is not the other, by energy. */
function apartness(a: Float32Array, b: Float32Array): number {
  const energy = (each: Float32Array): number => each.reduce((sum, sample) => sum + sample * sample, 0);
  return energy(a.map((sample, index) => sample - (b[index] ?? 0))) / energy(a);
}
