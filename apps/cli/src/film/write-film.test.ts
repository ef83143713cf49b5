import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Interrupted } from '../interrupt.ts';
import type { MadeFilm } from './film-order.ts';
import { writeFilm } from './write-film.ts';

const MADE = {
  captionsVtt: 'WEBVTT\n',
  captionsSrt: '',
  description: 'A tune\n',
  cueSheet: 'A tune\n',
} as unknown as MadeFilm;

let folder = '';
beforeEach(() => (folder = mkdtempSync(join(tmpdir(), 'fivespan-write-film-'))));
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const begin = (staging: string): void => {
  writeFileSync(join(staging, 'film'), 'new');
  writeFileSync(join(staging, 'thumbnail.png'), 'picture');
};

describe('a film on its way to its place', () => {
  it('comes with all that stands beside it, and leaves nothing else', async () => {
    await writeFilm(join(folder, 'deep/a.mp4'), 'mp4', async (staging) => {
      begin(staging);
      return MADE;
    });
    expect(readdirSync(join(folder, 'deep')).sort()).toEqual(
      ['a-cues.txt', 'a-thumbnail.png', 'a.mp4', 'a.srt', 'a.txt', 'a.vtt'].sort(),
    );
  });

  it.each([
    [
      'a full disk',
      Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC', syscall: 'write' }),
    ],
    ['a stopped browser', new Error('the browser was closed')],
  ])('is not half there after %s, and what was there stays', async (_what, fault) => {
    writeFileSync(join(folder, 'a.mp4'), 'old');
    const writing = writeFilm(join(folder, 'a.mp4'), 'mp4', async (staging) => {
      begin(staging);
      throw fault;
    });
    await expect(writing).rejects.toBe(fault);
    expect(readdirSync(folder)).toEqual(['a.mp4']);
    expect(readFileSync(join(folder, 'a.mp4'), 'utf8')).toBe('old');
  });

  it('is not there at all when it is stopped from the keyboard, nor the folder that was made for it', async () => {
    const writing = writeFilm(join(folder, 'deep/a.webm'), 'webm', async (staging, signal) => {
      begin(staging);
      process.emit('SIGINT', 'SIGINT');
      signal.throwIfAborted();
      return MADE;
    });
    await expect(writing).rejects.toBeInstanceOf(Interrupted);
    expect(existsSync(join(folder, 'deep'))).toBe(false);
  });

  it('takes away what a run left that was killed, and nothing of one that is still writing', async () => {
    const gone = spawnSync(process.execPath, ['--version']).pid;
    for (const pid of [gone, process.ppid]) mkdirSync(join(folder, `.unfinished-${pid}`));
    await writeFilm(join(folder, 'a.mp4'), 'mp4', async (staging) => {
      begin(staging);
      return MADE;
    });
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([`.unfinished-${process.ppid}`]);
  });

  it('takes the place of a folder of pictures whole', async () => {
    await writeFilm(join(folder, 'frames'), 'png', async (staging) => {
      begin(staging);
      writeFileSync(join(staging, '000001.png'), 'frame');
      return MADE;
    });
    expect(readdirSync(join(folder, 'frames'))).toEqual(['000001.png']);
    expect(existsSync(join(folder, 'frames-thumbnail.png'))).toBe(true);
  });
});
