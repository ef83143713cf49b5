import { chromium } from 'playwright-core';
import { FILM_PATH, FilmServer, VOICE_PATH } from './film-server.ts';
import { QUIET_FLAGS } from './find-chromium.ts';
import type { VoiceFile } from './film-voice.ts';
import type { FilmOrder, FilmStage, MadeFilm } from './film-order.ts';

/**
 * What a browser that only makes a film goes without: a second process for drawing, and many that stand ready. Each is memory for nothing.
 * And its page may say when what was drawn is to be collected (apps/web/src/platform/video/svg-picture.ts).
 */
const LEAN_FLAGS = ['--in-process-gpu', '--renderer-process-limit=1', '--js-flags=--expose-gc'];

/** The page's own function, and the one it reports progress with (apps/web/src/film-page.ts). */
interface FilmPage {
  readonly fivespanFilm: (order: unknown) => Promise<MadeFilm>;
}

/** A film could not be made. */
export class FilmFault extends Error {
  override readonly name = 'FilmFault';
}

export interface FilmMaking {
  /** The browser's program. */
  readonly chromium: string;
  /** The workbench's built files. */
  readonly root: string;
  /** Where the film goes, as a file `film`, or its pictures. */
  readonly folder: string;
  /** Recordings that it is made with. */
  readonly voices: readonly VoiceFile[];
  readonly report: (stage: FilmStage, done: number, total: number) => void;
  readonly signal: AbortSignal;
}

/**
 * Makes a film in a browser without a window.
 * @throws FilmFault where it cannot be made; the signal's reason where it was cancelled
 */
export async function filmInBrowser(order: FilmOrder, making: FilmMaking): Promise<MadeFilm> {
  const { signal } = making;
  const server = await FilmServer.open(making.root, making.folder, making.voices);
  const close: (() => Promise<unknown>)[] = [async () => await server.close()];
  const stopped = new Promise<never>((_resolve, reject) => {
    signal.addEventListener('abort', () => reject(signal.reason as Error), { once: true });
  });
  stopped.catch(() => undefined);
  try {
    signal.throwIfAborted();
    const isRoot = process.getuid?.() === 0;
    const browser = await chromium
      .launch({
        executablePath: making.chromium,
        headless: true,
        // we answer signals ourselves
        handleSIGINT: false,
        handleSIGTERM: false,
        handleSIGHUP: false,
        // a browser run by root has no sandbox to be in
        args: [...QUIET_FLAGS, ...LEAN_FLAGS, ...(isRoot ? ['--no-sandbox'] : [])],
      })
      .catch((error: unknown) => {
        const [first = ''] = (error instanceof Error ? error.message : String(error)).split('\n');
        throw new FilmFault(`'${making.chromium}' cannot be started (${first})`);
      });
    close.unshift(async () => await browser.close());
    const page = await browser.newPage();
    await page.exposeFunction('fivespanFilmProgress', making.report);
    await page.goto(`${server.url}/film.html`);
    await page.locator('body[data-ready]').waitFor({ state: 'attached' });
    const voices = making.voices.map(({ hash }) => ({ hash, url: server.url + VOICE_PATH + hash }));
    const asked = { ...order, voices, sink: { kind: 'address', url: server.url + FILM_PATH } };
    const gone = new Promise<never>((_resolve, reject) => {
      page.once('crash', () => reject(new FilmFault('the browser ran out of memory')));
      browser.once('disconnected', () => reject(new FilmFault('the browser was closed')));
    });
    gone.catch(() => undefined);
    return await Promise.race([
      page
        .evaluate((given) => (globalThis as unknown as FilmPage).fivespanFilm(given), asked)
        .catch((error: unknown) => {
          signal.throwIfAborted();
          const message = error instanceof Error ? error.message : String(error);
          const said = /FilmFault: (.*)/u.exec(message)?.[1] ?? message.split('\n')[0] ?? '';
          throw new FilmFault(server.fault ?? said);
        }),
      stopped,
      gone,
    ]);
  } finally {
    for (const each of close) await each().catch(() => undefined);
  }
}
