/**
 * Source: issue 'The workbench', 'Nothing gets in or out': strict content security policy, no request to anywhere but its own
 * files. Directives: W3C, Content Security Policy Level 3, judged by Chromium itself.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Page } from 'playwright-core';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
let page: Page;
let errors: string[];
let elsewhere: string[];

beforeAll(async () => {
  if (NO_CHROMIUM !== undefined) return;
  workbench = await openWorkbench();
  const context = await workbench.browser.newContext();
  page = await context.newPage();
  elsewhere = [];
  errors = [];
  page.on('request', (request) => {
    const { protocol, origin } = new URL(request.url());
    if (protocol.startsWith('http') && origin !== new URL(workbench.url).origin) elsewhere.push(request.url());
  });
  // the driver reports a request that the policy stopped before it was sent
  page.on('requestfailed', (request) => {
    const place = elsewhere.indexOf(request.url());
    if (request.failure()?.errorText === 'csp' && place >= 0) elsewhere.splice(place, 1);
  });
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  page.on('pageerror', (error) => errors.push(error.message));
  await page.goto(workbench.url);
  await page.getByRole('navigation').first().waitFor();
});
afterAll(async () => {
  await workbench?.close();
});

/** What the page's policy refuses, by directive and what was asked for, while `action` runs in the page. */
async function refusedBy(action: string): Promise<string> {
  return await page.evaluate(async (code) => {
    const refused = new Promise<string>((resolve) => {
      document.addEventListener('securitypolicyviolation', (event) => resolve(event.effectiveDirective), {
        once: true,
      });
      setTimeout(() => resolve('nothing refused'), 1500);
    });
    const [kind, text] = code.split('|') as [string, string];
    if (kind === 'script' || kind === 'style') {
      const element = document.createElement(kind);
      element.textContent = text;
      document.head.append(element);
    } else if (kind === 'markup') {
      const element = document.createElement('div');
      document.body.append(element);
      element.innerHTML = text;
    } else if (kind === 'fetch') {
      await fetch(text).catch(() => undefined);
    } else if (kind === 'worker') {
      try {
        new Worker(text).terminate();
      } catch {
        // refused at once
      }
    }
    return await refused;
  }, action);
}

describe.skipIf(NO_CHROMIUM)('the content policy', () => {
  test('is in the page itself, for hosts that send no headers, and is sent by ours', async () => {
    const answer = await fetch(workbench.url);
    const header = answer.headers.get('content-security-policy') ?? '';
    expect(header).toContain("default-src 'none'");
    expect(header).toContain("frame-ancestors 'none'");
    const meta = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
    expect(`${meta}; frame-ancestors 'none'`).toBe(header);
    for (const loose of ["'unsafe-inline'", "'unsafe-eval'", 'http:', 'https:', '*']) expect(meta).not.toContain(loose);
  });

  test('lets the workbench open and compute a lesson without a word', () => expect(errors).toEqual([]));

  test.each([
    ['a script written into the page', 'script|document.title = "taken"', 'script-src-elem'],
    ['a style sheet written into the page', 'style|body { display: none }', 'style-src-elem'],
    ["a picture's own script", 'markup|<img src="none.png" onerror="document.title = `taken`">', 'script-src-attr'],
    ['a picture from elsewhere', 'markup|<img src="https://elsewhere.invalid/x.png">', 'img-src'],
    ['a frame', 'markup|<iframe src="https://elsewhere.invalid/"></iframe>', 'frame-src'],
    ['a question to elsewhere', 'fetch|https://elsewhere.invalid/x', 'connect-src'],
    ['a worker made of text', `worker|data:text/javascript,postMessage(1)`, 'worker-src'],
  ])('refuses %s', async (_what, action, directive) => {
    expect(await refusedBy(action)).toBe(directive);
    expect(await page.title()).not.toBe('taken');
  });

  test('runs no text as script, yet compiles WebAssembly', async () => {
    const made = await page.evaluate(async () => {
      // from a timer: what the driver itself evaluates is exempt
      const ran = await new Promise<boolean>((resolve) => {
        setTimeout(() => {
          try {
            // oxlint-disable-next-line no-new-func, typescript/no-implied-eval -- what must be refused
            resolve(new Function('return true')() as boolean);
          } catch {
            resolve(false);
          }
        });
      });
      // the smallest module: magic and version (WebAssembly Core Specification, 5.5.16)
      const compiled = await WebAssembly.compile(new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]));
      return { ran, compiled: compiled instanceof WebAssembly.Module };
    });
    expect(made).toEqual({ ran: false, compiled: true });
  });

  test('sent nothing anywhere else', () => expect(elsewhere).toEqual([]));
});
