/** What the command line does where something goes wrong: each of these once ended in a stack trace, a lost file or silence. */
import { spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, ENGINE_VERSION, parseKey, writeLessonDocument, type Key } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { computed, reasonOf, sentenceOfFault } from './fault.ts';
import { readInput } from './input.ts';
import { writeStaged } from './lesson/staged-folder.ts';

const bin = join(import.meta.dirname, '../bin/fivespan.mjs');
let folder: string;
const place = (name: string): string => join(folder, name);
const run = (...words: string[]) => spawnSync(process.execPath, [bin, ...words], { cwd: folder, encoding: 'utf8' });

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-hostile-'));
  run('--help'); // builds once, so that no test's time depends on it
});
afterAll(() => rmSync(folder, { recursive: true }));

/** A process id that nobody has: one that has just ended. */
const goneProcess = (): number => spawnSync(process.execPath, ['--version']).pid;

const NO_CHORDS =
  '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>P</part-name></score-part></part-list>' +
  '<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>' +
  '<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note></measure></part></score-partwise>';

/** What a terminal obeys, but for the end of a line. */
// oxlint-disable-next-line no-control-regex -- they are what is looked for
const OBEYED = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/u;

describe('inputs', () => {
  test('a fault of ours names the bar', async () => {
    const input = await readInput('| Fm7 | Bb7 | Ebmaj7 |');
    if ('issues' in input) throw new Error('not read');
    const made = computed(input.chart, (chart) => {
      const symbols = chart.sections.flatMap(({ bars }) =>
        bars.flatMap(({ slots }) => slots.map((each) => each.chord)),
      );
      if (symbols.some(({ symbol }) => symbol === 'Bb7')) throw new RangeError('out of range');
      return 1;
    });
    expect(made).toMatchObject({ ok: false, issues: [{ code: 'lesson.bar-not-computed', place: { bar: 2 } }] });
    expect(sentenceOfFault(new RangeError('out of range'))).toContain('please report it');
  });
  test('a score without chord symbols is told', () => {
    writeFileSync(place('none.musicxml'), NO_CHORDS);
    for (const command of ['lesson', 'bass', 'analyse']) {
      const { status, stderr } = run(command, 'none.musicxml');
      expect(status).toBe(1);
      expect(stderr).toContain('no chord symbols');
      expect(stderr).not.toContain('    at ');
    }
  });
  test.each(['utf-16le', 'utf-16be'])('%s is read, with its mark', async (encoding) => {
    const bytes = Buffer.from('\ufeff| Fm7 | B♭7 |', 'utf16le');
    writeFileSync(place(`${encoding}.chart`), encoding === 'utf-16le' ? bytes : bytes.swap16());
    expect(await readInput(place(`${encoding}.chart`))).toMatchObject({ kind: 'chart' });
  });
  test('text that is neither is named', async () => {
    writeFileSync(place('bare.chart'), Buffer.from('| Fm7 |', 'utf16le'));
    writeFileSync(place('old.chart'), Buffer.from('title: Fête\n| Fm7 |', 'latin1'));
    for (const name of ['bare.chart', 'old.chart']) {
      expect(await readInput(place(name))).toMatchObject({ issues: [{ code: 'file.not-text' }] });
    }
  });
  test('a terminal obeys nothing of a title, a section or a chord that cannot be read', () => {
    writeFileSync(place('escape.chart'), 'title: Red\u001b[31m\u009b2J\nA\u001b[2J:\n| Fm7 | Bb7 |');
    writeFileSync(place('wrong.chart'), 'title: Red\u001b[31m\n| Fm7 | B\u001b[2J |');
    for (const [words, shown] of [
      [['analyse', 'escape.chart'], 'Red␛[31m'],
      [['drill', 'escape.chart', '--kind', 'in-thirds'], 'Red␛[31m'],
      [['analyse', 'wrong.chart'], 'B␛[2J'],
    ] as const) {
      const { stdout, stderr } = run(...words);
      expect(stdout + stderr).toContain(shown);
      expect(stdout + stderr).not.toMatch(OBEYED);
    }
  });
  test('thousands of faults: the first are told, and how many more', () => {
    writeFileSync(place('many.chart'), `A:\n${'| Xm7 Hq Yz Qw |\n'.repeat(4000)}`);
    const { status, stderr } = run('bass', 'many.chart');
    expect(status).toBe(1);
    expect(stderr.split('\n').length).toBeLessThan(1100);
    expect(stderr.trimEnd().split('\n').at(-1)).toMatch(/15000 faults more/u);
  });
  test('keys of the other mode: refused where typed, mended where kept', async () => {
    const chart = 'key: F minor\n| Fm7 | Bbm7 | C7 | Fm6 |';
    const { status, stderr } = run('lesson', chart, '--keys', 'F major');
    expect(status).toBe(2);
    expect(stderr).toContain("the tune is in minor, so 'F major' cannot be its key");
    const choices = { ...DEFAULT_CHOICES, keys: [parseKey('F major') as Key] };
    writeFileSync(place('mode.json'), writeLessonDocument({ chartText: chart, choices, engine: ENGINE_VERSION }));
    const input = await readInput(place('mode.json'));
    expect(input).toMatchObject({ choices: { keys: [{ mode: 'minor' }] } });
    expect('warnings' in input && input.warnings.map(({ code }) => code)).toContain('lesson.key-mode');
  });
});

describe('files', () => {
  test('nothing is written onto its own input', () => {
    writeFileSync(place('own.chart'), 'title: Tin Kettle\n| Fm7 | Bb7 |\n');
    const before = readFileSync(place('own.chart'), 'utf8');
    const converted = run('convert', 'own.chart', '--key', 'C', '--out', './own.chart');
    expect([converted.status, converted.stderr]).toEqual([2, expect.stringContaining('the chart itself')]);
    const kept = run('sound', 'own.chart', '--out', 'own.mid', '--keep', 'own.chart');
    expect([kept.status, kept.stderr]).toEqual([2, expect.stringContaining('--keep is the input itself')]);
    expect(readFileSync(place('own.chart'), 'utf8')).toBe(before);
    expect(existsSync(place('own.mid'))).toBe(false);
  });
  test('a folder in the way is told in words', () => {
    mkdirSync(place('way.chart/in'), { recursive: true });
    expect(run('analyse', 'way.chart').stderr).toContain("'way.chart' cannot be read: there is a folder of that name");
    const { status, stderr } = run('convert', '| Fm7 |', '--out', 'way.chart');
    expect(status).toBe(1);
    expect(stderr).toContain('there is a folder of that name');
    expect(stderr).not.toMatch(/E[A-Z]{4,}/u);
    expect(reasonOf({ code: 'ENOSPC' })).toBe('the disk is full');
  });
  test('what a run left that is gone is removed, what a running one has stays', async () => {
    const [gone, running] = [`.unfinished-${goneProcess()}`, `.unfinished-${process.ppid}`];
    for (const name of [gone, running]) mkdirSync(place(`left/${name}/C-major`), { recursive: true });
    await writeStaged(place('left'), [{ path: 'a.txt', bytes: new Uint8Array(1) }]);
    expect(readdirSync(place('left')).sort()).toEqual([running, 'a.txt']);
  });
  test.each(['SIGINT', 'SIGTERM'] as const)('%s while files are written leaves none', async (name) => {
    const files = Array.from({ length: 50 }, (_, each) => ({ path: `${each}/a`, bytes: new Uint8Array(100) }));
    const writing = writeStaged(place('cut/deep'), files);
    process.emit(name, name);
    await expect(writing).rejects.toMatchObject({ name: 'Interrupted', exit: name === 'SIGINT' ? 130 : 143 });
    expect(existsSync(place('cut'))).toBe(false);
  });
});

describe('an answer nobody takes', () => {
  test.runIf(existsSync('/dev/full'))('a full disk is told in a sentence', () => {
    const full = openSync('/dev/full', 'w');
    const { status, stderr } = spawnSync(process.execPath, [bin, 'bass', 'C7 |'], {
      encoding: 'utf8',
      stdio: ['ignore', full, 'pipe'],
    });
    expect(status).toBe(1);
    expect(stderr).toBe('fivespan: the answer could not be written: the disk is full\n');
  });
  test('a reader that went away: no word', async () => {
    const child = spawn(process.execPath, [bin, 'bass', 'C7 |', '--json'], { stdio: ['ignore', 'pipe', 'pipe'] });
    child.stdout.destroy();
    let said = '';
    child.stderr.on('data', (text: Buffer) => (said += text.toString()));
    const status = await new Promise((resolve) => child.on('close', resolve));
    expect([status, said]).toEqual([0, '']);
  });
});
