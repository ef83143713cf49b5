/**
 * Frames beside the ones that were looked at and kept (checks/fixtures/film; `FIVESPAN_LOOKS=write` writes them anew, to be looked at
 * again). Judge: pixelmatch, smoothed edges left out. That the share is small enough is proved with each: the same frame moved a
 * little must fail.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import { PNG, type Picture } from 'pngjs';
import { expect } from 'vitest';

const FOLDER = join(import.meta.dirname, '../fixtures', 'film');
/** The share of points that may differ: an edge drawn by another version of a browser, not a note, a tab or a finger elsewhere. */
const MOST_DIFFERENT = 0.002;
/** What counts as another colour, of 1 for black against white. */
const COLOUR_THRESHOLD = 0.15;
/** A frame moved by this much must be told from itself. */
const MOVED_POINTS = 2;

function differing(one: Picture, other: Picture): number {
  const { width, height } = one;
  return pixelmatch(one.data, other.data, undefined, width, height, { threshold: COLOUR_THRESHOLD }) / (width * height);
}

/** The picture moved to the right. */
function moved(picture: Picture): Picture {
  const to = new PNG({ width: picture.width, height: picture.height });
  picture.data.copy(to.data, MOVED_POINTS * 4);
  return to;
}

/** @param name of the frame that was kept, without its ending */
export function expectAsKept(name: string, seen: Picture): void {
  const file = join(FOLDER, `${name}.png`);
  if (process.env['FIVESPAN_LOOKS'] === 'write') {
    mkdirSync(FOLDER, { recursive: true });
    writeFileSync(file, PNG.sync.write(seen));
  }
  expect(existsSync(file), `no reference ${name}.png`).toBe(true);
  const kept = PNG.sync.read(readFileSync(file));
  expect([seen.width, seen.height]).toEqual([kept.width, kept.height]);
  expect(differing(seen, kept), name).toBeLessThanOrEqual(MOST_DIFFERENT);
  expect(differing(moved(kept), kept), 'a moved frame would pass: the threshold says nothing').toBeGreaterThan(
    MOST_DIFFERENT * 1.5,
  );
}
