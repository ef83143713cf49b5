/** The built workbench in Chromium, for journeys: built once, served on this machine, each page with a fresh profile. */
import { join } from 'node:path';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { ensureWorkbench, serveWorkbench } from '../tools/workbench.mjs';
import { openChromium } from './chromium.ts';

const MOST_WAITING_MS = 90_000;

const root = join(import.meta.dirname, '..');

/** A served workbench and a browser to visit it with. */
export interface Workbench {
  readonly url: string;
  readonly browser: Browser;
  /**
   * A page in a profile of its own, at the workbench's start; `context` for a second tab. Errors in it fail the check that asks
   * `errors`. The look round is not shown unless `tour` asks for it, and the chart's text stands beside its bars where
   * `chartText` does; `settings` are others that are there before the page's first script. Written later, they race with what the
   * page writes itself. `before` is done with the profile before its page is loaded: a script of its own costs no second load then.
   * Nothing is kept for use offline unless `serviceWorkers: 'allow'` asks for it: that is two seconds of work a
   * profile, and nobody but the checks of it looks at it. What is visited within a test is closed when the test is over, also where it fails; what is visited
   * before all of them, or `kept`, is closed by whoever did so.
   */
  visit(
    options?: BrowserContextOptions & {
      readonly tour?: boolean;
      readonly chartText?: boolean;
      readonly settings?: Readonly<Record<string, boolean | string>>;
      readonly kept?: boolean;
      readonly before?: (context: BrowserContext) => Promise<unknown>;
    },
  ): Promise<{ page: Page; context: BrowserContext; errors: string[] }>;
  close(): Promise<void>;
}

/** What visits need: the built files served, and a browser. */
interface Opened {
  readonly url: string;
  readonly browser: Browser;
  readonly close: () => Promise<void>;
}

/** `FIVESPAN_WEB_DIST` names another folder to build to, so that two runs do not build over one another. */
async function openAnew(): Promise<Opened> {
  const outDir = await ensureWorkbench(root, process.env['FIVESPAN_WEB_DIST'] ?? join(root, 'apps/web/dist'));
  const { url, close } = await serveWorkbench(root, { outDir });
  const browser = await openChromium();
  return {
    url,
    browser,
    close: async () => {
      await browser.close();
      await close();
    },
  };
}

/**
 * Tests that share a worker share its browser, too: each new one costs some two seconds of processor time. Every visit has a
 * profile of its own all the same, and none outlives its file. Both end with the worker.
 */
let ofWorker: Promise<Opened> | undefined;

async function openOfWorker(): Promise<Opened> {
  ofWorker ??= openAnew();
  let { url, browser } = await ofWorker;
  if (!browser.isConnected()) ({ url, browser } = await (ofWorker = openAnew()));
  const closeContexts = async (): Promise<void> => {
    await Promise.all(browser.contexts().map((context) => context.close()));
  };
  return { url, browser, close: closeContexts };
}

/** Opens the workbench: for all tests of a worker once, for a bench each time. */
export async function openWorkbench(): Promise<Workbench> {
  const { url, browser, close } = await (process.env['VITEST'] === undefined ? openAnew() : openOfWorker());
  return {
    url,
    browser,
    visit: async ({
      tour = false,
      chartText = false,
      settings: others = {},
      kept = false,
      before,
      ...options
    } = {}) => {
      const context = await browser.newContext({ serviceWorkers: 'block', ...options });
      // a busy machine may take long over what is right; what never comes still fails within a test's time
      context.setDefaultTimeout(MOST_WAITING_MS);
      if (!tour) {
        await context.addInitScript(
          (settings) => {
            localStorage['fivespan.settings'] ??= JSON.stringify(settings);
          },
          { tourSeen: true, chartText, ...others },
        );
      }
      if (!kept) await closedAfterTest(context);
      await before?.(context);
      const page = await context.newPage();
      const errors = errorsOf(page);
      await page.goto(url);
      return { page, context, errors };
    },
    close,
  };
}

/**
 * A workbench left open goes on engraving and playing, and holds some 300 MB: fifteen of them make the sixteenth slow.
 */
async function closedAfterTest(context: BrowserContext): Promise<void> {
  // benches visit it, too
  if (process.env['VITEST'] === undefined) return;
  const { onTestFinished } = await import('vitest');
  try {
    onTestFinished(async () => await context.close());
  } catch {
    // not within a test
  }
}

/** For a context of one's own, as a script before its pages: the chart's text stands beside its bars. */
export function withChartText(): void {
  try {
    localStorage['fivespan.settings'] ??= JSON.stringify({ chartText: true });
  } catch {
    // a page of no address keeps nothing
  }
}

/** Opens help or settings from the head of the page; where it is narrow they stand behind three dots. */
export async function openFromHead(page: Page, name: 'Help' | 'Settings'): Promise<void> {
  const head = page.getByRole('banner');
  const more = head.getByRole('button', { name: 'More', exact: true });
  if (await more.isVisible()) await more.click();
  await head.getByRole('button', { name, exact: true }).click();
}

/** What goes wrong in a page from now on: exceptions and errors on its console. */
export function errorsOf(page: Page): string[] {
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  return errors;
}

/**
 * Waits until Play shows a bar. It is the page that looks, at every change: asked from outside twice a second, a busy machine misses
 * bars that last no longer.
 * @param text a piece of what the bar's place says, 'bar 2 of 8'
 */
export function barShown(page: Page, text: string): Promise<void> {
  return page.evaluate(
    ({ wanted, most }) =>
      new Promise<void>((resolve, reject) => {
        const saysSo = (): boolean =>
          [...document.querySelectorAll('[data-bar-now]')].some((each) =>
            (each.textContent ?? '').replaceAll(/\s+/gu, ' ').includes(wanted),
          );
        const watch = new MutationObserver(() => {
          if (saysSo()) end(resolve);
        });
        const late = setTimeout(() => end(() => reject(new Error(`'${wanted}' was never shown`))), most);
        const end = (then: () => void): void => {
          watch.disconnect();
          clearTimeout(late);
          then();
        };
        watch.observe(document.body, { subtree: true, childList: true, characterData: true });
        if (saysSo()) end(resolve);
      }),
    { wanted: text, most: MOST_WAITING_MS },
  );
}
