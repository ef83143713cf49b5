/**
 * Source: issue 'The workbench', 'Checks': a few screenshots as reviewed references with a perceptual threshold. References are in
 * fixtures/looks, each looked at before it was kept; `FIVESPAN_LOOKS=write` writes them anew, to be looked at again. Judge: pixelmatch
 * (colour difference in YIQ; Kotsarenko and Ramos 2010, as its README says), smoothed edges left out.
 *
 * Fonts differ between machines, so pictures are taken where shapes say more than letters, and a share of points may differ. That
 * the share is small enough is proved with each: the same picture moved a little must fail.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import type { Locator, Page } from 'playwright-core';
import { PNG, type Picture } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

const FOLDER = join(import.meta.dirname, '../fixtures', 'looks');

/** The share of points that may differ: letters in another font, not a key, a tab or a finger elsewhere. */
const MOST_DIFFERENT = 0.02;
/** What counts as another colour, of 1 for black against white. */
const COLOUR_THRESHOLD = 0.15;
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
function moved(picture: Picture): Picture {
  const { width, height, data } = picture;
  const to = new PNG({ width, height });
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = (y * width + Math.max(0, x - MOVED_POINTS)) * 4;
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
