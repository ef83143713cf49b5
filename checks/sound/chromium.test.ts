/**
 * Source: issue 'Sound', Checks: Node and Chromium give the same samples (SHA-256 of float output, frame count a multiple of 128).
 * Chromium is Debian's; it renders in a page as a file is rendered, and in an audio worklet as it is played, live notes too.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { BLOCK_FRAMES, NoteStore } from '@fivespan/sound/engine';
import { build } from 'esbuild';
import { describe, expect, test } from 'vitest';
import { NO_CHROMIUM, openChromium, openPage } from '../chromium.ts';
import { bankFiles } from '../sound-bank.ts';
import {
  bankOf,
  FRAMES,
  Playing,
  preparedSchedule,
  renderedSchedule,
  SAMPLE_RATE,
  SCHEDULE,
} from './chromium/sounds.ts';

const hash = (left: Float32Array, right: Float32Array): string =>
  createHash('sha256')
    .update(new Uint8Array(left.buffer, left.byteOffset, left.byteLength))
    .update(new Uint8Array(right.buffer, right.byteOffset, right.byteLength))
    .digest('hex');

async function bundle(entry: string): Promise<{ contentType: string; body: string }> {
  const { outputFiles } = await build({
    entryPoints: [join(import.meta.dirname, 'chromium', entry)],
    bundle: true,
    write: false,
    format: 'esm',
    platform: 'browser',
    logLevel: 'error',
  });
  return { contentType: 'text/javascript', body: outputFiles[0]?.text ?? '' };
}

describe.skipIf(NO_CHROMIUM)(`Chromium${NO_CHROMIUM === undefined ? '' : `: ${NO_CHROMIUM}`}`, () => {
  test('every instrument sounds the same in Node, in a page and in an audio worklet, to the last bit', async () => {
    const bytes = readFileSync((await bankFiles()).web);
    const bank = await bankOf(bytes);
    const store = new NoteStore(bank, SAMPLE_RATE);
    const rendered = renderedSchedule(store);
    const prepared = preparedSchedule(store);
    expect(prepared.note).toHaveLength(SCHEDULE.events.length);
    expect(rendered.left.reduce((peak, each) => Math.max(peak, Math.abs(each)), 0)).toBeGreaterThan(0.1);
    const playing = new Playing(bank, prepared);
    const left = new Float32Array(FRAMES);
    const right = new Float32Array(FRAMES);
    for (let at = 0; at < FRAMES; at += BLOCK_FRAMES) {
      playing.next(left.subarray(at, at + BLOCK_FRAMES), right.subarray(at, at + BLOCK_FRAMES));
    }
    const node = { page: hash(rendered.left, rendered.right), worklet: hash(left, right) };
    // live notes sound: else the second comparison would be the first again
    expect(node.worklet).not.toBe(node.page);

    const browser = await openChromium();
    try {
      const page = await openPage(browser, {
        '/bank': { contentType: 'application/octet-stream', body: bytes },
        '/page.js': await bundle('page.ts'),
        '/worklet.js': await bundle('worklet.ts'),
      });
      await page.addScriptTag({ url: '/page.js', type: 'module' });
      const chromium = await page.evaluate(() =>
        (globalThis as unknown as { hashes: () => Promise<unknown> }).hashes(),
      );
      expect(chromium).toEqual(node);
    } finally {
      await browser.close();
    }
  });
});
