/** A browser that is killed in the middle of its work, for checks of what it leaves on the disk. */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { expect } from 'vitest';
import { CHROMIUM_FLAGS, CHROMIUM_PROGRAM } from '../chromium.ts';

/** Chromium as a process of our own, to be killed; its profile stays. @param script before each page's own */
export async function startChromium(
  profile: string,
  script: () => void,
): Promise<{ page: Page; kill: () => Promise<void> }> {
  const portFile = join(profile, 'DevToolsActivePort');
  rmSync(portFile, { force: true });
  const flags = [...CHROMIUM_FLAGS, '--headless', '--remote-debugging-port=0', `--user-data-dir=${profile}`];
  // a group of its own: it is killed as a whole, as a power cut would
  const process_ = spawn(CHROMIUM_PROGRAM, [...flags, 'about:blank'], { detached: true, stdio: 'ignore' });
  const ended = new Promise((resolve) => process_.once('exit', resolve));
  await expect
    .poll(() => existsSync(portFile) && readFileSync(portFile, 'utf8').includes('\n'), { timeout: 20_000 })
    .toBe(true);
  const [port = ''] = readFileSync(portFile, 'utf8').split('\n');
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const [context] = browser.contexts();
  const page = context?.pages()[0] ?? (await context?.newPage());
  if (page === undefined) throw new Error('Chromium opened no page');
  await page.addInitScript(script);
  return {
    page,
    kill: async () => {
      process.kill(-(process_.pid as number), 'SIGKILL');
      await ended;
    },
  };
}
