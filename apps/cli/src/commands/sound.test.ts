import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, ENGINE_VERSION, parseKey, writeLessonDocument } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const bin = join(import.meta.dirname, '../../bin/fivespan.mjs');
const CHANGES = 'Fm7 | Bb7 | Ebmaj7 | %';
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-sound-'));
  run('--help'); // builds once, so that no test's time depends on it
});
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...words: string[]) =>
  spawnSync(process.execPath, [bin, 'sound', ...words], { cwd: folder, encoding: 'utf8' });

describe('fivespan sound', () => {
  test('writes a MIDI file, the same for the same seed', () => {
    const first = run(CHANGES, '-o', 'a.mid', '--choruses', '1', '--seed', '5');
    expect(first.status, first.stderr).toBe(0);
    expect(first.stdout).toContain('a.mid');
    run(CHANGES, '--out', 'b.mid', '--choruses', '1', '--seed', '5');
    run(CHANGES, '--out', 'c.mid', '--choruses', '1', '--seed', '6');
    const [a, b, c] = ['a.mid', 'b.mid', 'c.mid'].map((name) => readFileSync(join(folder, name), 'latin1'));
    expect(a?.startsWith('MThd')).toBe(true);
    expect(b).toBe(a);
    expect(c).not.toBe(a);
  });

  test('writes a WAV as long as its bars and their ringing, and leaves nothing beside it', () => {
    const { status, stderr } = run(CHANGES, '-o', 'sub/a.wav', '--choruses', '1', '--tempo', '240', '--count-in', '1');
    expect(status, stderr).toBe(0);
    const bytes = readFileSync(join(folder, 'sub', 'a.wav'));
    expect(bytes.toString('latin1', 0, 4)).toBe('RIFF');
    // 6 bars of a second; 44.1 kHz, 16 bit, stereo: 176,400 bytes a second; at most 4 s of ringing
    expect(bytes.length / 176_400).toBeGreaterThan(6);
    expect(bytes.length / 176_400).toBeLessThan(10.1);
    expect(readdirSync(join(folder, 'sub'))).toEqual(['a.wav']);
  });

  test('a lesson shown in another key sounds in it, unless keys are asked for', () => {
    const soundOf = (shownIn: string | null, ...words: string[]): string => {
      const choices = { ...DEFAULT_CHOICES, shownIn: parseKey(shownIn ?? '') ?? null };
      const document = writeLessonDocument({ chartText: `| ${CHANGES} |`, choices, engine: ENGINE_VERSION });
      writeFileSync(join(folder, 'lesson.json'), document);
      const { status, stderr } = run('lesson.json', '-o', 'shown.mid', '--choruses', '1', ...words);
      expect(status, stderr).toBe(0);
      return readFileSync(join(folder, 'shown.mid'), 'latin1');
    };
    const inF = soundOf('F major');
    expect(inF).toBe(soundOf(null, '--keys', 'F'));
    expect(soundOf('F major', '--keys', 'Eb')).not.toBe(inF);
  });

  test('counts the choruses of a cycle', () => {
    const { stdout } = run(CHANGES, '-o', 'twelve.mid', '--choruses', '1', '--keys', 'fourths', '--with', 'bass');
    expect(stdout).toContain('12 choruses');
  });

  test.each([
    ['--out', 'a.ogg', 'ends in'],
    ['--tempo', '12', 'beats a minute'],
    ['--choruses', '0', 'whole number'],
    ['--with', 'kazoo', 'right'],
    ['--keys', 'sevenths', 'no major key'],
    ['--count-in', '-1', 'whole number'],
    ['--choruses', '99', 'minutes'],
  ])('%s %s is refused, and says what it takes', (option, value, words) => {
    const long = option === '--choruses' && value === '99' ? ['--tempo', '20,20,20,20,20'] : [];
    const { status, stderr } = run(CHANGES, `${option}=${value}`, ...long);
    expect(status).toBe(2);
    expect(stderr).toContain(words);
  });

  test('an interrupt leaves no file', async () => {
    const child = spawn(
      process.execPath,
      [bin, 'sound', CHANGES, '-o', 'cut.wav', '--choruses', '40', '--keys', 'fourths'],
      {
        cwd: folder,
      },
    );
    const status = await new Promise((resolve) => {
      let asked = false;
      child.stderr.on('data', (text: Buffer) => {
        if (!asked && text.toString().includes('playing')) asked = child.kill('SIGINT');
      });
      child.on('exit', resolve);
    });
    expect(status).toBe(130);
    expect(readdirSync(folder).some((name) => name.includes('cut') || name.includes('unfinished'))).toBe(false);
  });
});
