import { existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FilmServer } from './film-server.ts';

let folder = '';
beforeEach(() => (folder = mkdtempSync(join(tmpdir(), 'fivespan-film-server-'))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const open = async (): Promise<FilmServer> =>
  await FilmServer.open({ root: folder, folder, voices: [], order: {}, report: () => undefined });

/** What the page says to it. */
async function post({ url }: FilmServer, path: string, body: string | Uint8Array, origin = url): Promise<Response> {
  return await fetch(url + path, { method: 'POST', headers: { origin }, body: body as BodyInit });
}

describe('a film that its page sends', () => {
  it('lies where its pieces say, whatever their order', async () => {
    const server = await open();
    await post(server, '/-/film?at=4', 'tune');
    await post(server, '/-/film?at=0', 'slow');
    await server.close();
    expect(readFileSync(join(folder, 'film'), 'utf8')).toBe('slowtune');
  });

  it.runIf(existsSync('/dev/full'))('is told to have met a full disk, in words', async () => {
    // a device on which there is never room. Source: Linux, full(4)
    symlinkSync('/dev/full', join(folder, 'film'));
    const server = await open();
    const answer = await post(server, '/-/film?at=0', 'slowtune');
    expect([answer.status, await answer.text()]).toEqual([500, 'the disk is full']);
    await post(server, '/-/failed', 'Failed to write');
    await expect(server.made).rejects.toThrow(/^the disk is full$/u);
    await server.close();
  });

  it('is taken from no other page', async () => {
    const server = await open();
    expect((await post(server, '/-/film?at=0', 'x', 'http://127.0.0.1:1')).status).toBe(405);
    await server.close();
    expect(readFileSync(join(folder, 'film'), 'utf8')).toBe('');
  });
});
