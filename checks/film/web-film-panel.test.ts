/**
 * Source: issue 'The lesson as a film': a moment at any time, scenes in order and in the teacher's words, progress, cancel, download; the
 * same frames as the command's.
 */
import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { AxeBuilder } from '@axe-core/playwright';
import { ENGINE_VERSION, writeLessonDocument, type Choices } from '@fivespan/core';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CHROMIUM_PROGRAM, NO_CHROMIUM } from '../chromium.ts';
import { openPages, panel, savedBy } from '../web/pages.ts';
import { midiOf } from './played.ts';
import { spokenTone, wavOf } from './spoken.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
}, 300_000);
afterAll(async () => {
  await workbench?.close();
});

/** The share of the picture's pixels that are ink. */
async function inkOf(page: Page): Promise<number> {
  return await page.getByRole('img', { name: 'A moment of the film' }).evaluate((element) => {
    const canvas = element as HTMLCanvasElement;
    const { data } = (canvas.getContext('2d') as CanvasRenderingContext2D).getImageData(
      0,
      0,
      canvas.width,
      canvas.height,
    );
    let ink = 0;
    for (let at = 0; at < data.length; at += 4) if ((data[at + 3] as number) > 0 && (data[at] as number) < 120) ink++;
    return ink / (data.length / 4);
  });
}

/** A movie's length in seconds. Source: ISO 14496-12, the movie header box. */
function durationOf(bytes: Uint8Array): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const at = Buffer.from(bytes).indexOf('mvhd') + 4;
  return view.getUint8(at) === 1
    ? Number(view.getBigUint64(at + 24)) / view.getUint32(at + 20)
    : view.getUint32(at + 16) / view.getUint32(at + 12);
}

/** A film that the workbench makes: what is asked for, and the hash of its frames before they are encoded. */
interface Heard {
  readonly choices: Choices;
  readonly height: number;
  hash?: string | null;
}

/** Has films hashed, and drawn small, which is quicker. */
async function hearFilms(page: Page): Promise<void> {
  await page.evaluate(() => {
    const heard: object[] = [];
    Object.assign(globalThis, { filmsHeard: heard });
    // oxlint-disable-next-line typescript/unbound-method -- called on its worker below
    const post = Worker.prototype.postMessage as (message: unknown, more: Transferable[]) => void;
    Worker.prototype.postMessage = function (this: Worker, message: { kind?: string; order?: object }, ...more) {
      if (message.kind !== 'make') return post.call(this, message, ...(more as [Transferable[]]));
      const film = { ...message.order };
      heard.push(film);
      this.addEventListener('message', ({ data }: MessageEvent<{ kind?: string; film?: { hash: string } }>) => {
        if (data.kind === 'made') Object.assign(film, { hash: data.film?.hash });
      });
      const order = { ...message.order, isHashed: true, height: 360 };
      post.call(this, { ...message, order }, ...(more as [Transferable[]]));
    };
  });
}

const filmHeard = async (page: Page): Promise<Heard> =>
  await page.evaluate(() => (globalThis as unknown as { filmsHeard: Heard[] }).filmsHeard.at(-1) as Heard);

const folder = mkdtempSync(join(tmpdir(), 'fivespan-film-panel-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/**
 * Two builds of a browser draw letters' edges a little differently: the command gets the one that the workbench is tried in. The build
 * without a window is handed an address bare.
 */
function browserOfJourneys(): string {
  const program = join(folder, 'chromium');
  const bare = `for each do shift; case "$each" in --app=*) each="\${each#--app=}";; esac; set -- "$@" "$each"; done`;
  const letters = '--font-render-hinting=none';
  writeFileSync(program, `#!/bin/sh\n${bare}\nexec ${CHROMIUM_PROGRAM} ${letters} "$@"\n`, { mode: 0o755 });
  return program;
}

/** The hash of the frames that the command makes of the same lesson. */
async function hashByCommand(name: string, { choices }: Heard, ...more: string[]): Promise<string> {
  const lesson = join(folder, `${name}.json`);
  writeFileSync(lesson, writeLessonDocument({ chartText: CHART, choices, engine: ENGINE_VERSION }));
  const fivespan = join(import.meta.dirname, '../..', 'apps/cli/bin/fivespan.mjs');
  const asked = ['film', lesson, '-o', join(folder, `${name}.mp4`), '--height', '360', '--json', '--agreed', ...more];
  const env = { ...process.env, CHROME_PATH: browserOfJourneys() };
  const { stdout } = await promisify(execFile)(process.execPath, [fivespan, ...asked], { maxBuffer: 1e8, env });
  return (JSON.parse(stdout) as { readonly hash: string }).hash;
}

const CHART = 'title: Slow Ferry\nkey: C minor\ntempo: 240\n\n| Dm7b5 | G7alt |';
/** Five notes over the first bar. [seconds, key, length] */
const LINE = [65, 67, 68, 72, 68].map((key, index): [number, number, number] => [0.1 + index * 0.21, key, 0.15]);

describe.skipIf(NO_CHROMIUM)('the film of a lesson', () => {
  test('is looked at, put in order, stopped, made and saved', async () => {
    const { page, errors } = await workbench.visit();
    await openPages(page, CHART);
    await panel(page, 'Film');
    const film = page
      .locator('details[open]')
      .filter({ has: page.getByRole('heading', { name: 'Film', exact: true }) });
    await film.getByText('0:00 of', { exact: false }).waitFor();
    await expect.poll(async () => await inkOf(page), { timeout: 90_000 }).toBeGreaterThan(0.002);

    // what is said goes into the picture and is kept with the lesson
    const idea = 'What you say: Idea: a chord, its scale, what rubs';
    await film.getByRole('textbox', { name: idea }).fill('First the colour.');
    await film.getByRole('button', { name: 'Earlier: Idea: a chord, its scale, what rubs' }).click();
    await film.getByLabel('About the chord').first().selectOption({ label: 'bar 2: G7alt' });
    await film.getByLabel('Seconds at least').first().fill('9');
    await film.getByText('The idea', { exact: false }).first().waitFor();
    if (process.env['FIVESPAN_SHOTS'] !== undefined)
      await page.screenshot({ path: process.env['FIVESPAN_SHOTS'], fullPage: true });
    const { violations } = await new AxeBuilder({ page }).include('details[open]').analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);

    // a voice is laid after a plain question, names itself, and is told where it is not here any more
    const lay = 'Lay a voice under it: Played';
    await film.getByRole('button', { name: lay, exact: true }).click();
    await film.getByText('May I use your voice in a film?', { exact: false }).waitFor();
    const refused = page.waitForEvent('filechooser');
    await film.getByRole('button', { name: 'It is mine, or I asked: choose the recording' }).click();
    await (await refused).setFiles({ name: 'tune.mp3', mimeType: 'audio/mpeg', buffer: Buffer.from('no recording') });
    await film.getByText('tune.mp3 is no recording that this browser can read', { exact: false }).waitFor();
    await film.getByRole('button', { name: lay, exact: true }).click();
    const chosen = page.waitForEvent('filechooser');
    await film.getByRole('button', { name: 'It is mine, or I asked: choose the recording' }).click();
    const words = spokenTone({ words: 10, wordSeconds: 0.5, pauseSeconds: 0.2 });
    await (await chosen).setFiles({ name: 'spoken.wav', mimeType: 'audio/wav', buffer: wavOf(words) });
    await film.getByText('Voice: spoken.wav, 0:07').waitFor();

    await film.getByRole('checkbox', { name: 'Only what is played, no titles' }).check();
    await film.getByLabel('Size').selectOption('720');
    await hearFilms(page);
    await film.getByRole('button', { name: 'Save film' }).click();
    await page.getByRole('button', { name: 'Stop: Film, C minor' }).click();
    await page.getByRole('listitem').getByText('stopped; nothing was saved').waitFor();
    const { name, bytes } = await savedBy(page, () => film.getByRole('button', { name: 'Save film' }).click());
    expect(name).toBe('slow-ferry-C-minor.mp4');
    expect(new TextDecoder('latin1').decode(bytes.subarray(4, 8))).toBe('ftyp');
    expect(bytes.length).toBeGreaterThan(50_000);
    const scenes = await filmHeard(page);
    expect(scenes.height).toBe(720);
    writeFileSync(join(folder, 'spoken.wav'), wavOf(words));
    const voiced = ['--no-titles', '--voice', `4=${join(folder, 'spoken.wav')}`];
    // made while the journey goes on
    const scenesByCommand = hashByCommand('scenes', scenes, ...voiced);
    scenesByCommand.catch(() => undefined);
    // two choruses of two bars, a count and an ending at 240, the first as long as what is spoken in it; and what rings
    expect(durationOf(bytes)).toBeCloseTo(7 + 4 + 2, 1);
    // a page that goes while its film is made loses the film, and nothing that was chosen
    await film.getByRole('button', { name: 'Save film' }).click();
    await page.getByRole('button', { name: 'Stop: Film, C minor' }).waitFor();
    await page.evaluate(() => indexedDB.deleteDatabase('fivespan-voices'));
    await page.reload();
    await panel(page, 'Film');
    expect(await film.getByRole('textbox', { name: idea }).inputValue()).toBe('First the colour.');
    expect(await film.getByLabel('Seconds at least').first().inputValue()).toBe('9');
    expect(await film.getByLabel('About the chord').first().locator('option:checked').textContent()).toBe(
      'bar 2: G7alt',
    );
    await film.getByText('this recording is not in this browser', { exact: false }).waitFor();
    await film.getByRole('button', { name: 'Take the voice off: Played', exact: true }).click();
    await film.getByText('this recording is not in this browser', { exact: false }).waitFor({ state: 'detached' });

    // a performance is followed after a plain question, in time with a camera's film
    const played = midiOf(LINE);
    await film.getByRole('button', { name: 'Film what somebody played …' }).click();
    await film.getByRole('button', { name: 'Open a MIDI file' }).click();
    await film.getByText('May I film what you played?', { exact: false }).waitFor();
    const take = page.waitForEvent('filechooser');
    await film.getByRole('button', { name: 'They agreed, or it is my own' }).click();
    await (await take).setFiles({ name: 'take.mid', mimeType: 'audio/midi', buffer: played });
    await film.getByText('The film follows take.mid', { exact: false }).waitFor();
    await film.getByLabel('In the camera’s film, at').fill('0:01.264');
    await film.getByLabel('Everything later by, in ms').fill('40');
    await film.getByLabel('Size').selectOption('720');
    await hearFilms(page);
    const followed = await savedBy(page, () => film.getByRole('button', { name: 'Save the film of the take' }).click());
    expect(followed.name).toBe('slow-ferry-C-minor-take.mp4');
    // a camera's 1.264 s, 40 ms, the line, and two seconds of what was played last
    expect(durationOf(followed.bytes)).toBeCloseTo(1.264 + 0.04 + 4 * 0.21 + 0.15 + 2, 1);
    writeFileSync(join(folder, 'take.mid'), played);
    const asked = ['--take', join(folder, 'take.mid'), '--sync', '0:01.264=first', '--offset', '40'];
    const followedFilm = await filmHeard(page);
    expect(followedFilm.hash).toMatch(/^[\da-f]{64}$/u);
    expect(await hashByCommand('take', followedFilm, ...asked)).toBe(followedFilm.hash);
    expect(await scenesByCommand).toBe(scenes.hash);
    expect(errors).toEqual([]);
  });
});
