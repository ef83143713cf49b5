/** Source: issue 'The workbench': `npm start` shows the demo lesson ready to study and play, and its files run on any static host. */
import { spawn, type ChildProcess } from 'node:child_process';
import { createServer, type Server } from 'node:http';
import { readFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { ensureWorkbench } from '../../tools/workbench.mjs';
import { errorsOf, openWorkbench, type Workbench } from '../workbench.ts';

const root = join(import.meta.dirname, '../..');

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

describe.skipIf(NO_CHROMIUM)('a first visit', () => {
  test('shows the demo lesson, ready to study; the shelf is one link away', async () => {
    const { page, errors } = await workbench.visit();
    await page.waitForURL(/#\/lesson\/[\w-]+\/study$/u);
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    await page.getByRole('link', { name: 'Lessons' }).click();
    await page.waitForURL(/#\/lessons$/u);
    expect(errors).toEqual([]);
  });

  test('to a place in it leads there', async () => {
    const { page } = await workbench.visit();
    await page.waitForURL(/study$/u);
    const other = await page.context().newPage();
    await other.goto(`${workbench.url}#/lessons`);
    await other.getByRole('main').waitFor();
    expect(new URL(other.url()).hash).toBe('#/lessons');
  });
});

describe.skipIf(NO_CHROMIUM)('a host that knows nothing but files', () => {
  const TYPES: Readonly<Record<string, string>> = {
    '.html': 'text/html',
    '.js': 'text/javascript',
    '.css': 'text/css',
    '.svg': 'image/svg+xml',
  };
  let host: Server;
  let address: string;

  beforeAll(async () => {
    const folder = await ensureWorkbench(root, process.env['FIVESPAN_WEB_DIST'] ?? join(root, 'apps/web/dist'));
    host = createServer((request, answer) => {
      const path = new URL(request.url ?? '/', 'http://host').pathname.replace(/^\/some\/folder\//u, '');
      readFile(join(folder, path === '' ? 'index.html' : path)).then(
        (bytes) => {
          answer.writeHead(200, { 'Content-Type': TYPES[extname(path === '' ? '.html' : path)] ?? 'text/html' });
          answer.end(bytes);
        },
        () => answer.writeHead(404).end(),
      );
    });
    await new Promise<void>((resolve) => {
      host.listen(0, '127.0.0.1', resolve);
    });
    const bound = host.address();
    address = `http://127.0.0.1:${typeof bound === 'object' ? bound?.port : ''}/some/folder/`;
  });
  afterAll(() => {
    host.close();
  });

  test('can serve it from any folder', async () => {
    const page = await workbench.browser.newPage();
    const errors = errorsOf(page);
    await page.goto(address);
    await page.getByRole('banner').getByText('Lantern Street').waitFor();
    expect(errors).toEqual([]);
    await page.close();
  });
});

/** What `npm start` says until a line holds `until`; where it ends before, with the code it ended with. */
function heard(started: ChildProcess, until: RegExp): Promise<string> {
  return new Promise((resolve) => {
    let text = '';
    started.stdout?.on('data', (bytes: Buffer) => {
      text += bytes.toString();
      if (until.test(text)) resolve(text);
    });
    started.on('exit', (code) => resolve(`${text}\nended with ${code}`));
  });
}

describe('npm start', () => {
  test('prints the address and how to stop, goes on, stops when told, and needs no browser to open', async () => {
    const started = spawn(process.execPath, ['tools/start.mjs'], {
      cwd: root,
      // no screen and no programs to open one with
      env: { ...process.env, CI: undefined, DISPLAY: undefined, WAYLAND_DISPLAY: undefined },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const said = await heard(started, /npx --no-install fivespan .*\n\n|already/u);
    expect(said).not.toContain('ended with');
    const url = /http:\/\/localhost:\d+\//u.exec(said)?.[0] ?? '';
    const page = await (await fetch(url)).text();
    expect(page).toContain('<title>Fivespan</title>');
    if (said.includes('already')) return;
    expect(said).toContain('Ctrl+C');
    const ended = new Promise((resolve) => {
      started.on('exit', resolve);
    });
    started.kill('SIGINT');
    expect(await ended).toBe(0);
    await expect(fetch(url)).rejects.toThrow();
  });
});
