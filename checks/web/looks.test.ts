/**
 * Source: issue 'The workbench', 'Checks': a few screenshots as reviewed references with a perceptual threshold. References are in
 * fixtures/looks, each looked at before it was kept; `FIVESPAN_LOOKS=write` writes them anew, to be looked at again. Judge: pixelmatch
 * (colour difference in YIQ; Kotsarenko and Ramos 2010, as its README says), smoothed edges left out.
 *
 * Pictures are taken where shapes say more than letters, and a share of points may differ. That the share is small enough is proved
 * with each: the same picture moved a little must fail. Issue 'A face of its own', Checks: "reference screenshots (small, reviewed,
 * perceptual threshold) of each screen in four sizes and both themes": a sheet a screen, drawn at a fifth of its size.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import type { CDPSession, Locator, Page } from 'playwright-core';
import { PNG, type Picture } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { sharedVisit } from '../shared-visit.ts';
import { openFromHead, openWorkbench, type Workbench } from '../workbench.ts';

const FOLDER = join(import.meta.dirname, '../fixtures', 'looks');

/** The share of points that may differ: letters in another font, not a key, a tab or a finger elsewhere. */
const MOST_DIFFERENT = 0.02;
/** The same of a reduced screen. */
const MOST_OF_SCREEN = 0.01;
/** What counts as another colour, of 1 for black against white. */
const COLOUR_THRESHOLD = 0.15;
/** How often a screen that is not what was kept is looked at again, half a second later. */
const LATE_LOOKS = 10;
/** A picture moved by this much must be told from itself. */
const MOVED_POINTS = 6;

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

function differing(one: Picture, other: Picture): number {
  const { width, height } = one;
  const points = pixelmatch(one.data, other.data, undefined, width, height, { threshold: COLOUR_THRESHOLD });
  return points / (width * height);
}

/** The picture moved to the right; what comes in is its own left edge. */
function moved(picture: Picture, by = MOVED_POINTS): Picture {
  const { width, height, data } = picture;
  const to = new PNG({ width, height });
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = (y * width + Math.max(0, x - by)) * 4;
      data.copy(to.data, (y * width + x) * 4, from, from + 4);
    }
  }
  return to;
}

/** A screenshot of what stays as it is: two in a row are the same. */
async function settled(place: Locator): Promise<Buffer> {
  let last: Buffer = Buffer.alloc(0);
  for (let tries = 0; tries < 40; tries++) {
    const next = await place.screenshot({ animations: 'disabled', caret: 'hide' });
    if (next.equals(last)) return next;
    last = next;
    await place.page().waitForTimeout(400);
  }
  throw new Error('the picture never came to rest');
}

async function compare(name: string, place: Locator): Promise<void> {
  const bytes = await settled(place);
  const file = join(FOLDER, `${name}.png`);
  if (process.env['FIVESPAN_LOOKS'] === 'write') {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(file, bytes);
  }
  expect(existsSync(file), `no reference ${name}.png`).toBe(true);
  const [seen, kept] = [PNG.sync.read(bytes), PNG.sync.read(readFileSync(file))];
  expect([seen.width, seen.height]).toEqual([kept.width, kept.height]);
  expect(differing(seen, kept)).toBeLessThanOrEqual(MOST_DIFFERENT);
  expect(differing(moved(kept), kept), 'a moved picture would pass: the threshold says nothing').toBeGreaterThan(
    MOST_DIFFERENT * 1.5,
  );
}

async function open(page: Page, screen: string): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: screen, exact: true }).click();
  await page.getByRole('main', { name: screen }).waitFor();
}

describe.skipIf(NO_CHROMIUM).each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  test('the hand on the keyboard, on Study', async () => {
    const { page, context } = await workbench.visit({
      colorScheme,
      viewport: { width: 820, height: 1180 },
      reducedMotion: 'reduce',
    });
    await open(page, 'Study');
    const picture = page.getByRole('img', { name: /^Thumb on/u }).first();
    await picture.waitFor();
    await compare(`study-keyboard-${colorScheme}`, picture);
    await context.close();
  });
});

// its fonts are inside it: the same letters on every machine
test.skipIf(NO_CHROMIUM)('the first printed page, on a phone', async () => {
  const { page, context } = await workbench.visit({ viewport: { width: 390, height: 844 }, reducedMotion: 'reduce' });
  await open(page, 'Pages');
  const picture = page.getByRole('main').getByRole('img').first();
  await picture.waitFor();
  await compare('printed-page', picture);
  await context.close();
});

/** Screens are drawn at this share of their size: letters become grey lines, and eighty pictures cost what a few do. */
const REDUCED = 0.2;
const SIZES = [
  [1280, 720],
  [1024, 768],
  [820, 1180],
  [390, 844],
] as const;
const THEMES = ['light', 'dark'] as const;
const GAP = 8;
const isWriting = process.env['FIVESPAN_LOOKS'] === 'write';

const toView = async (page: Page, view: string): Promise<void> => {
  await open(page, 'Study');
  await page.getByRole('tab', { name: view, exact: true }).click();
};
const toLessons = async (page: Page): Promise<void> => {
  await page.keyboard.press('Escape');
  const link = page.getByRole('link', { name: 'Lessons', exact: true });
  if (await link.isVisible()) await link.click();
  await page.getByRole('link', { name: /^Practise/u }).waitFor();
};

/** How each screen is come to; what it is about is there then. */
const SCREENS: Readonly<Record<string, (page: Page) => Promise<void>>> = {
  chord: async (page) => {
    await toView(page, 'chord');
    await page.getByRole('button', { name: 'Hear the chord-scale' }).waitFor();
  },
  hand: async (page) => {
    await toView(page, 'hand');
    await page.getByRole('img', { name: /^Thumb on/u }).waitFor();
  },
  notes: async (page) => {
    await toView(page, 'notes');
    await page.locator('[data-note][aria-label]:visible').first().waitFor();
  },
  chart: async (page) => {
    await open(page, 'Chart');
    await page.getByRole('grid').waitFor();
  },
  play: async (page) => {
    await open(page, 'Play');
    await page.getByText(/^Ready/u).waitFor();
  },
  pages: async (page) => {
    await open(page, 'Pages');
    await page
      .getByRole('status')
      .filter({ hasText: /^\d+ pages?$/u })
      .waitFor();
  },
  lessons: toLessons,
  settings: async (page) => {
    await toLessons(page);
    await openFromHead(page, 'Settings');
    await page.getByRole('dialog', { name: 'Settings' }).waitFor();
  },
  help: async (page) => {
    await toLessons(page);
    await openFromHead(page, 'Help');
    await page.getByRole('dialog', { name: 'Help' }).waitFor();
  },
};

/** A screen as it is when it has come to rest: nothing is busy, and what is seen is what was seen some frames before. */
async function atRest(page: Page, tools: CDPSession, [width, height]: (typeof SIZES)[number]): Promise<Picture> {
  let last = '';
  for (let tries = 0; tries < 100; tries++) {
    await page.evaluate(
      async () => await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null)))),
    );
    await page.locator('main [aria-busy="true"]').first().waitFor({ state: 'detached' });
    const { data } = await tools.send('Page.captureScreenshot', {
      clip: { x: 0, y: 0, width, height, scale: REDUCED },
      captureBeyondViewport: false,
    });
    if (data === last) return PNG.sync.read(Buffer.from(data, 'base64'));
    last = data;
  }
  throw new Error('the screen never came to rest');
}

/** Where each size and theme stands on a screen's sheet. */
const TILES = SIZES.flatMap((size, column) =>
  THEMES.map((theme, row) => {
    const [width, height] = size.map((px) => Math.ceil(px * REDUCED)) as [number, number];
    const left = SIZES.slice(0, column).reduce((sum, [before]) => sum + Math.ceil(before * REDUCED) + GAP, 0);
    const top = row * (Math.max(...SIZES.map(([, each]) => Math.ceil(each * REDUCED))) + GAP);
    return { size, theme, left, top, width, height };
  }),
);
type Tile = (typeof TILES)[number];
const SHEET = {
  width: Math.max(...TILES.map(({ left, width }) => left + width)),
  height: Math.max(...TILES.map(({ top, height }) => top + height)),
};

function cutOut(sheet: Picture, { left, top, width, height }: Tile): Picture {
  const tile = new PNG({ width, height });
  PNG.bitblt(sheet, tile, left, top, width, height, 0, 0);
  return tile;
}

// one visit, one page, a test a screen: each has the time that a test has
const visited = sharedVisit(async () => {
  const visit = await workbench.visit({ reducedMotion: 'reduce', colorScheme: 'light', kept: true });
  await visit.page.waitForURL(/study$/u);
  await visit.page.getByText('Kept on this machine').waitFor();
  return { ...visit, tools: await visit.context.newCDPSession(visit.page) };
});
test.skipIf(NO_CHROMIUM).each(Object.entries(SCREENS))(
  'the screen %s in four sizes, light and dark',
  async (screen, goTo) => {
    const { page, tools } = await visited();
    const sheet = new PNG(SHEET);
    await page.setViewportSize({ width: 1280, height: 720 });
    await goTo(page);
    await page.mouse.move(0, 0);
    for (const tile of TILES) {
      const { size, theme, left, top, width, height } = tile;
      await page.setViewportSize({ width: size[0], height: size[1] });
      await page.emulateMedia({ colorScheme: theme });
      let seen = await atRest(page, tools, size);
      // what is kept has nothing to be compared with: it gets the time that a late page would have
      if (isWriting) {
        await page.waitForTimeout(2000);
        seen = await atRest(page, tools, size);
      }
      // a busy machine may draw a printed page long after it has drawn the screen around it
      for (let tries = 0; tries < LATE_LOOKS && !isAsKept(screen, tile, seen); tries++) {
        await page.waitForTimeout(500);
        seen = await atRest(page, tools, size);
      }
      PNG.bitblt(seen, sheet, 0, 0, Math.min(width, seen.width), Math.min(height, seen.height), left, top);
    }
    await page.emulateMedia({ colorScheme: 'light' });
    expect(differencesOf(screen, sheet)).toEqual([]);
  },
);

const sheetFile = (screen: string): string => join(FOLDER, 'screens', `${screen}.png`);

/** Whether one picture of a screen is what was kept; what is written anew is compared with nothing. */
function isAsKept(screen: string, tile: Tile, seen: Picture): boolean {
  const file = sheetFile(screen);
  if (isWriting || !existsSync(file)) return true;
  const before = cutOut(PNG.sync.read(readFileSync(file)), tile);
  const now = new PNG({ width: tile.width, height: tile.height });
  PNG.bitblt(seen, now, 0, 0, Math.min(tile.width, seen.width), Math.min(tile.height, seen.height), 0, 0);
  return differing(now, before) <= MOST_OF_SCREEN;
}

/** What of a screen differs from what was looked at and kept; one a size and theme. */
function differencesOf(screen: string, sheet: Picture): string[] {
  const file = sheetFile(screen);
  if (isWriting) {
    mkdirSync(join(FOLDER, 'screens'), { recursive: true });
    writeFileSync(file, PNG.sync.write(sheet, { colorType: 2 }));
  }
  if (!existsSync(file)) return [`no reference screens/${screen}.png`];
  const kept = PNG.sync.read(readFileSync(file));
  if (kept.width !== sheet.width || kept.height !== sheet.height) return [`screens/${screen}.png has another size`];
  return TILES.flatMap((tile) => {
    const [seen, before] = [cutOut(sheet, tile), cutOut(kept, tile)];
    const name = `${screen} at ${tile.size.join(' by ')}, ${tile.theme}`;
    const [share, shareMoved] = [differing(seen, before), differing(moved(before, 2), before)];
    if (shareMoved < MOST_OF_SCREEN * 1.5) return [`${name}: moved it would pass, ${percent(shareMoved)} differ`];
    return share > MOST_OF_SCREEN ? [`${name}: ${percent(share)} of it differ`] : [];
  });
}

const percent = (share: number): string => `${(share * 100).toFixed(2)} %`;
