import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { FilmFault, FilmServer } from './film-server.ts';
import { removeLeftovers } from '../lesson/staged-folder.ts';
import { QUIET_FLAGS } from './find-chromium.ts';
import type { VoiceFile } from './film-voice.ts';
import type { FilmOrder, FilmStage, MadeFilm } from './film-order.ts';

/**
 * What a browser that only makes a film goes without: other processes for drawing and fetching, many that stand ready, extensions, and
 * what it does when nobody looks (three minutes after its start it would measure in a process of its own what models it could run: 52 MB). Its page may say when what was drawn is to be collected (apps/web/src/platform/video/svg-picture.ts),
 * colours are the same on every machine, and it ends when the pipes that it was started with do: with us, however we end.
 */
const FILM_FLAGS = [
  '--headless',
  '--in-process-gpu',
  '--renderer-process-limit=1',
  '--js-flags=--expose-gc',
  '--enable-features=NetworkServiceInProcess2',
  '--disable-features=SpareRendererForSitePerProcess,InitialWebUI,OptimizationGuideModelExecution,LogOnDeviceMetricsOnStartup,Translate',
  '--disable-extensions',
  '--disable-background-timer-throttling',
  '--disable-backgrounding-occluded-windows',
  '--disable-renderer-backgrounding',
  '--disable-dev-shm-usage',
  '--disable-breakpad',
  '--force-color-profile=srgb',
  '--no-default-browser-check',
  '--password-store=basic',
  '--use-mock-keychain',
  '--mute-audio',
  '--remote-debugging-pipe',
];
/** A browser has so long to end by itself. */
const END_MS = 3000;
/** And so long to open its page. */
const BEGIN_MS = 90_000;

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

/** Starts a browser at a page. Of a group of its own: what ends us from the keyboard is ours to answer. */
function started(program: string, profile: string, url: string): ChildProcess {
  const isRoot = process.getuid?.() === 0;
  // a browser run by root has no sandbox to be in, and no process that makes sandboxes
  const args = [...QUIET_FLAGS, ...FILM_FLAGS, ...(isRoot ? ['--no-sandbox', '--no-zygote'] : [])];
  return spawn(program, [...args, `--user-data-dir=${profile}`, `--app=${url}`], {
    stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'],
    detached: process.platform !== 'win32',
  });
}

/** Ends a browser with all its processes. */
async function ended(browser: ChildProcess): Promise<void> {
  if (browser.pid === undefined || browser.exitCode !== null || browser.signalCode !== null) return;
  const over = new Promise((resolve) => browser.once('exit', resolve));
  browser.kill();
  const timer = setTimeout(() => {
    if (process.platform === 'win32') browser.kill('SIGKILL');
    else process.kill(-(browser.pid as number), 'SIGKILL');
  }, END_MS);
  await over;
  clearTimeout(timer);
}

/** A browser's profiles, the process that made each named. */
const PROFILES = /^fivespan-browser-(\d+)-\w+$/u;

/** A new profile's folder; what commands left of theirs that were killed is removed. */
async function freshProfile(): Promise<string> {
  await removeLeftovers(tmpdir(), PROFILES);
  return await mkdtemp(join(tmpdir(), `fivespan-browser-${process.pid}-`));
}

/**
 * Makes a film in a browser without a window.
 * @throws FilmFault where it cannot be made; the signal's reason where it was cancelled
 */
export async function filmInBrowser(order: FilmOrder, making: FilmMaking): Promise<MadeFilm> {
  const { signal, chromium } = making;
  signal.throwIfAborted();
  const server = await FilmServer.open({ ...making, order });
  const profile = await freshProfile();
  const browser = started(chromium, profile, `${server.url}/film.html`);
  let begins: ReturnType<typeof setTimeout> | undefined;
  const stopped = new Promise<never>((_resolve, reject) => {
    begins = setTimeout(() => {
      if (!server.isAsked) reject(new FilmFault(`'${chromium}' does not open its page`));
    }, BEGIN_MS);
    signal.addEventListener('abort', () => reject(signal.reason as Error), { once: true });
    browser.once('error', ({ message }) => reject(new FilmFault(`'${chromium}' cannot be started (${message})`)));
    browser.once('exit', () => reject(new FilmFault('the browser was closed')));
  });
  stopped.catch(() => undefined);
  // a pipe that breaks is a browser that has ended
  for (const pipe of browser.stdio) pipe?.on('error', () => undefined);
  try {
    return await Promise.race([server.made, stopped]);
  } finally {
    clearTimeout(begins);
    await ended(browser);
    await server.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 }).catch(() => undefined);
  }
}
