/** Debian's Chromium for checks, driven without a window and cut off from every network. */
import { existsSync } from 'node:fs';
import { chromium, type Browser, type Page } from 'playwright-core';
import { QUIET_FLAGS } from '../apps/cli/src/film/find-chromium.ts';

/**
 * Where Debian puts it. The build without the browser's own window comes first: the same engine, but a new profile costs it 0.1 s of
 * processor time instead of 0.9. Films are made in the whole browser (`findChromium`), in their checks too.
 */
export const CHROMIUM_PROGRAM =
  ['/usr/lib/chromium/chromium-headless-shell', '/usr/bin/chromium'].find((path) => existsSync(path)) ??
  '/usr/bin/chromium';

/**
 * How it is started: without a sandbox (checks run as root), letters as wide as a browser with a window draws them, otherwise as films
 * are made with it.
 */
export const CHROMIUM_FLAGS: readonly string[] = ['--no-sandbox', '--font-render-hinting=none', ...QUIET_FLAGS];

/** Why a check goes without; undefined where Chromium is. */
export const NO_CHROMIUM = existsSync(CHROMIUM_PROGRAM) ? undefined : 'no Chromium here (Debian package chromium)';

/** An address that no network has; https, because audio worklets and hashes want a secure page. */
export const ORIGIN = 'https://fivespan.invalid';

/** What the page may ask for, by path. */
export type Files = Readonly<Record<string, { readonly contentType: string; readonly body: string | Uint8Array }>>;

/**
 * Tests look at a page for seconds: code that is compiled once more, for speed, is paid for when they are over. Without the second
 * compiling of the engraver and the last one of scripts a visit to Study, Play and Pages takes 18 s of processor time instead of
 * 24. Benches have the browser as it is.
 */
const COMPILED_ONCE: readonly string[] =
  process.env['VITEST'] === undefined ? [] : ['--js-flags=--liftoff-only --no-turbofan'];

/** A browser with a fresh profile. */
export function openChromium(): Promise<Browser> {
  const args = [...CHROMIUM_FLAGS, ...COMPILED_ONCE];
  return chromium.launch({ executablePath: CHROMIUM_PROGRAM, headless: true, args });
}

/** An empty page that gets these files and nothing else. */
export async function openPage(browser: Browser, files: Files): Promise<Page> {
  const page = await browser.newPage();
  await page.route('**/*', async (route) => {
    const { origin, pathname } = new URL(route.request().url());
    const file = origin === ORIGIN ? files[pathname] : undefined;
    if (pathname === '/')
      await route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>check</title>' });
    else if (file === undefined) await route.abort();
    else
      await route.fulfill({
        contentType: file.contentType,
        body: typeof file.body === 'string' ? file.body : Buffer.from(file.body),
      });
  });
  await page.goto(`${ORIGIN}/`);
  return page;
}
