/**
 * Source: EBU R 95 (from memory): what is to be read stays 5 % inside the frame. Measured by a browser with the film's own faces: every
 * text of frames in three shapes, on paper and clear, in 15 keys, under a long title; and no caption over a tab.
 */
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEFAULT_CHOICES, makeFilm, parseKey, readChart, type Chart, type Film, type Key } from '@fivespan/core';
import { createEngraver, type Engraver } from '@fivespan/formats/engraving';
import { FILM_SHAPES, filmDrawing } from '@fivespan/formats/film';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { PNG, type Picture } from 'pngjs';
import { NO_CHROMIUM, openChromium, openPage } from '../chromium.ts';
import { expectAsKept } from './kept-frames.ts';

/** The 15 major keys that can be written. */
const KEYS = 'Cb Gb Db Ab Eb Bb F C G D A E B F# C#'.split(' ').map((tonic) => parseKey(`${tonic} major`) as Key);
const LONG_TITLE =
  'The Very Long Way Home by the Old Canal on a Wednesday in the Rain, with Ünïcödé Ąccents and No Umbrella';

const root = join(import.meta.dirname, '../..');
const fromWeb = createRequire(join(root, 'apps/web/package.json'));
const fontAt = (file: string): string => readFileSync(fromWeb.resolve(file)).toString('base64');
const FACES = [
  [
    'Source Serif 4',
    '200 900',
    fontAt('@fontsource-variable/source-serif-4/files/source-serif-4-latin-opsz-normal.woff2'),
  ],
  [
    'Source Sans 3',
    '200 900',
    fontAt('@fontsource-variable/source-sans-3/files/source-sans-3-latin-wght-normal.woff2'),
  ],
  ['Fivespan Signs', '400 700', readFileSync(join(root, 'packages/formats/fonts/signs-600.woff2')).toString('base64')],
]
  .map(
    ([family, weight, data]) =>
      `@font-face{font-family:'${family}';font-weight:${weight};src:url(data:font/woff2;base64,${data}) format('woff2')}`,
  )
  .join('');

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
  return read.value;
}

let engraver: Engraver;
let browser: Awaited<ReturnType<typeof openChromium>> | undefined;
let page: Page;
beforeAll(async () => {
  engraver = await createEngraver();
  if (NO_CHROMIUM !== undefined) return;
  browser = await openChromium();
  page = await openPage(browser, {});
  await page.setViewportSize({ width: 1920, height: 1920 });
  await page.setContent(`<style>${FACES} body { margin: 0 }</style><div id="frame"></div>`);
});
afterAll(async () => {
  await browser?.close();
  engraver?.close();
});

/** One still of each kind: what is longest of it. */
function stillsOf(film: Film): Film['stills'] {
  const kinds = new Map<string, Film['stills'][number]>();
  for (const still of film.stills) {
    const { card, bar, caption, keyboard } = still.picture;
    kinds.set(`${card?.kind} ${bar === null} ${caption?.code} ${keyboard?.degrees === null}`, still);
  }
  return [...kinds.values()];
}

test.skipIf(NO_CHROMIUM)('texts stay inside the safe area, whatever the shape, key and title', async () => {
  const chart = chartOf(`title: ${LONG_TITLE}\ntempo: 240\nkey: C major\n\n| Dm7b5 G7(b9,b13) | Cmaj7(#11) |`);
  const wrong: string[] = [];
  let texts = 0;
  for (const [index, key] of KEYS.entries()) {
    const film = makeFilm(chart, DEFAULT_CHOICES, { key }) as Film;
    for (const shape of FILM_SHAPES) {
      // the one sheet is narrower, and its texts are set by the same rules: every fifth key
      for (const ground of index % 5 === 0 ? (['paper', 'clear'] as const) : (['paper'] as const)) {
        const look = { shape, theme: 'light', ground, hasNotes: false, hasCaptions: true } as const;
        const drawing = filmDrawing(film, look, engraver);
        const frames = stillsOf(film).map(({ picture }) => drawing.frame(picture));
        const { found, count } = await page.evaluate(
          async ({ frames, safe, name }) => {
            const place = document.getElementById('frame') as HTMLElement;
            const found: string[] = [];
            let count = 0;
            for (const frame of frames) {
              place.innerHTML = frame;
              await document.fonts.ready;
              const origin = (place.firstElementChild as Element).getBoundingClientRect();
              const boxes = [...place.querySelectorAll('text')].map((text) => ({
                role: text.getAttribute('class') ?? '',
                said: text.textContent ?? '',
                box: text.getBoundingClientRect(),
              }));
              count += boxes.length;
              for (const { role, said, box } of boxes) {
                // what stands on or over a key stands where the key is
                if (['finger', 'degree', 'rubs'].includes(role)) continue;
                const left = box.left - origin.left;
                const right = box.right - origin.left;
                const bottom = box.bottom - origin.top;
                // a line's box is taller than its letters: a fifth of it is below the baseline
                const isIn =
                  left >= safe.x - 2 &&
                  right <= safe.x + safe.width + 2 &&
                  bottom - box.height * 0.2 <= safe.y + safe.height + 2;
                if (!isIn) found.push(`${name} ${role} '${said}': ${left} ${right} ${bottom}`);
              }
            }
            return { found, count };
          },
          { frames, safe: drawing.layout.safe, name: `${shape} ${ground} ${String(key.tonic)}` },
        );
        wrong.push(...found);
        texts += count;
      }
    }
  }
  expect(wrong).toEqual([]);
  expect(texts).toBeGreaterThan(1000);
});

const DEMO = readFileSync(join(root, 'examples/DEMO.chart'), 'utf8');
const NOISE_SIZE = 480;

/** A picture of a frame a third as large, over whatever a style says. */
async function pictureOf(frame: string, style = ''): Promise<Picture> {
  await page.evaluate(
    async ({ frame, style }) => {
      const place = document.getElementById('frame') as HTMLElement;
      place.innerHTML = frame;
      place.setAttribute('style', `zoom: 0.3333; width: max-content; line-height: 0; ${style}`);
      await document.fonts.ready;
    },
    { frame, style },
  );
  return PNG.sync.read(await page.locator('#frame').screenshot());
}

test.skipIf(NO_CHROMIUM)('frames look as they were when they were looked at', async () => {
  const film = makeFilm(chartOf(DEMO), DEFAULT_CHOICES) as Film;
  const stillAt = (kind: Film['scenes'][number]['kind'], seconds: number) => {
    const from = film.scenes.find((scene) => scene.kind === kind)?.startSeconds ?? 0;
    return film.stills.findLast(({ startSeconds }) => startSeconds <= from + seconds)?.picture;
  };
  for (const [name, shape, theme, ground, kind, seconds] of [
    ['idea-wide', 'wide', 'light', 'paper', 'idea', 9],
    ['play-wide-dark', 'wide', 'dark', 'paper', 'play', 6],
    ['play-tall', 'tall', 'light', 'paper', 'play', 6],
    ['position-square', 'square', 'light', 'paper', 'position', 6],
  ] as const) {
    const drawing = filmDrawing(film, { shape, theme, ground, hasNotes: true, hasCaptions: true }, engraver);
    const picture = stillAt(kind, seconds);
    if (picture === undefined) throw new TypeError(`the demo's film must have a ${kind}`);
    expectAsKept(name, await pictureOf(drawing.frame(picture)));
  }
});

/** Relative luminance. Source: WCAG 2.2, its definition. */
function luminanceOf(data: Uint8Array, at: number): number {
  const [red, green, blue] = [0, 1, 2].map((channel) => {
    const value = (data[at + channel] as number) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** What a camera has behind: every point another colour. The same numbers give the same noise. */
function noiseOf(seed: number): string {
  const png = new PNG({ width: NOISE_SIZE, height: NOISE_SIZE });
  let state = seed;
  for (let at = 0; at < png.data.length; at += 4) {
    for (let channel = 0; channel < 3; channel++) {
      // Source: Numerical Recipes, 7.1, a quick generator, from memory
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      png.data[at + channel] = state >>> 24;
    }
    png.data[at + 3] = 255;
  }
  return `background: url(data:image/png;base64,${PNG.sync.write(png).toString('base64')})`;
}

// Source: WCAG 2.2, 1.4.3 Contrast (Minimum): 4.5 to 1, 3 to 1 for large letters
test.skipIf(NO_CHROMIUM)('what is read over a camera’s picture stands out, whatever is behind', async () => {
  const film = makeFilm(chartOf(DEMO), DEFAULT_CHOICES) as Film;
  const kinds = ['idea', 'position', 'play', 'title'] as const;
  for (const [index, kind] of kinds.entries()) {
    const from = film.scenes.find((scene) => scene.kind === kind)?.startSeconds ?? 0;
    const picture = film.stills.findLast(({ startSeconds }) => startSeconds <= from + 6)?.picture;
    if (picture === undefined) throw new TypeError(`the demo's film must have a ${kind}`);
    const theme = index % 2 === 0 ? 'light' : 'dark';
    const shape = FILM_SHAPES[index % FILM_SHAPES.length] ?? 'wide';
    const drawing = filmDrawing(film, { shape, theme, ground: 'clear', hasNotes: true, hasCaptions: true }, engraver);
    const frame = drawing.frame(picture);
    const [one, other] = [await pictureOf(frame, noiseOf(7)), await pictureOf(frame, noiseOf(8))];
    const boxes = await page.evaluate(() => {
      const origin = document.getElementById('frame')?.getBoundingClientRect() ?? { left: 0, top: 0 };
      return [...document.querySelectorAll('#frame text')].map((text) => {
        const { left, top, width, height } = text.getBoundingClientRect();
        return { left: left - origin.left, top: top - origin.top, width, height, said: text.textContent ?? '' };
      });
    });
    expect(boxes.length).toBeGreaterThan(0);
    for (const { left, top, width, height, said } of boxes) {
      const lights: number[] = [];
      let shining = 0;
      // a line's box is taller than its letters
      for (let y = Math.ceil(top + height * 0.15); y < Math.floor(top + height * 0.8); y++) {
        for (let x = Math.ceil(left); x < Math.floor(left + width); x++) {
          const at = (y * one.width + x) * 4;
          if (Math.abs((one.data[at] as number) - (other.data[at] as number)) > 2) shining++;
          lights.push(luminanceOf(one.data, at));
        }
      }
      lights.sort((a, b) => a - b);
      // nothing of what is behind shines through; thin strokes a third as large are greyer than they are
      expect(shining, `${kind} '${said}' lets the camera's picture through`).toBe(0);
      const [dark = 0, light = 0] = [lights[0], lights[Math.floor(lights.length * 0.95)]];
      expect((light + 0.05) / (dark + 0.05), `${kind} '${said}'`).toBeGreaterThanOrEqual(3);
    }
  }
});
