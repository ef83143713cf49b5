import { existsSync } from 'node:fs';
import { join } from 'node:path';

/** Where systems put a Chromium, or a browser made of it. Common practice. */
const PLACES: Readonly<Partial<Record<NodeJS.Platform, readonly string[]>>> = {
  linux: ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome', '/snap/bin/chromium'],
  darwin: [
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  ],
  win32: ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'].map((folder) =>
    join(process.env[folder] ?? 'C:\\', 'Google', 'Chrome', 'Application', 'chrome.exe'),
  ),
};

/** How a Chromium is started that nobody sits before: without a window, asking nobody anything. Also for the checks. */
export const QUIET_FLAGS: readonly string[] = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * The Chromium that films are made with: the one CHROME_PATH names, else the first where systems put it.
 * @returns its program, or what is missing
 */
export function findChromium(): { readonly path: string } | { readonly fault: string } {
  const named = process.env['CHROME_PATH'];
  if (named !== undefined && named !== '') {
    return existsSync(named) ? { path: named } : { fault: `CHROME_PATH names '${named}', which is not there` };
  }
  const path = (PLACES[process.platform] ?? []).find((each) => existsSync(each));
  return path === undefined
    ? {
        fault:
          'no Chromium was found; films are drawn and encoded in one. Install it (Debian: apt-get install chromium), ' +
          'or say where it is: CHROME_PATH=/path/to/chromium',
      }
    : { path };
}
