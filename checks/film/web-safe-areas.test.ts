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
import { NO_CHROMIUM, openChromium, openPage } from '../chromium.ts';

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
beforeAll(async () => {
  engraver = await createEngraver();
});
afterAll(() => engraver?.close());

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
  const browser = await openChromium();
  try {
    const page = await openPage(browser, {});
    await page.setContent(`<style>${FACES}</style><div id="frame"></div>`);
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
                  // a line's box is taller than its letters: a fifth of it lies below the baseline
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
  } finally {
    await browser.close();
  }
});
