import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { DEFAULT_CHOICES, DRILL_KINDS, ENGINE_VERSION, writeLessonDocument, type Phrase } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { parserOptions, UsageError, type Call } from '../command.ts';
import { COMMANDS } from '../commands.ts';
import { run as runDrill } from './drill.ts';

const bin = join(import.meta.dirname, '../../bin/fivespan.mjs');
const demo = join(import.meta.dirname, '../../../../examples/DEMO.chart');
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-drill-'));
  run('--help'); // builds once, so that no test's time depends on it
});
afterAll(() => rmSync(folder, { recursive: true }));

/** The program as one starts it: what depends on its own files, workers and exit code. */
const run = (...words: string[]) =>
  spawnSync(process.execPath, [bin, 'drill', ...words], { cwd: folder, encoding: 'utf8' });

/** The command in this process: a program a question costs more than the drill. Misuse is status 2, as main.ts has it. */
async function ask(...words: string[]): Promise<{ status: number; stdout: string; stderr: string }> {
  const command = COMMANDS.find(({ name }) => name === 'drill');
  if (command === undefined) throw new Error('drill must be a command');
  const said = { stdout: '', stderr: '' };
  const spies = (['stdout', 'stderr'] as const).map((stream) =>
    vi.spyOn(process[stream], 'write').mockImplementation((text) => {
      said[stream] += String(text);
      return true;
    }),
  );
  try {
    const { values, positionals } = parseArgs({ args: words, options: parserOptions(command), allowPositionals: true });
    const call = { operands: positionals, options: values as Call['options'] };
    return { status: await runDrill(call), ...said };
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return { ...said, status: 2, stderr: error.message };
  } finally {
    for (const each of spies) each.mockRestore();
  }
}

interface Report {
  readonly tempi: readonly number[];
  readonly keys: readonly {
    readonly key: string;
    readonly rightHand: readonly { readonly midi: number; readonly startTicks: number; readonly finger: number }[];
  }[];
}

describe('fivespan drill', () => {
  test('--list needs no chart: each kind and, two spaces on, its sentence', () => {
    const { status, stdout } = run('--list');
    expect(status).toBe(0);
    const lines = stdout.trimEnd().split('\n');
    expect(lines.map((line) => line.split('  ')[0])).toEqual([...DRILL_KINDS]);
    for (const line of lines) expect(line).toMatch(/^[a-z-]+ {2}[A-Z][^\n]*\.$/u);
  });
  test('the same line in six keys is the same line: as far apart, at the same times, with the same fingers', async () => {
    const options = '--kind same-line --bars 5-8 --keys fifths --key-count 6 --tempo 80-120 --json';
    const { status, stdout, stderr } = await ask(demo, ...options.split(' '));
    expect(status, stderr).toBe(0);
    const report = JSON.parse(stdout) as Report;
    expect(report.tempi).toEqual([80, 90, 100, 110, 120]);
    expect(report.keys.map(({ key }) => key).join()).toBe('Eb major,Bb major,F major,C major,G major,D major');
    const lines = report.keys.map(({ rightHand }) =>
      rightHand.map((note) => `${note.startTicks} ${note.finger} ${note.midi - (rightHand[0]?.midi ?? 0)}`).join(),
    );
    expect(lines[0]?.length).toBeGreaterThan(20);
    expect(new Set(lines).size).toBe(1);
  });
  test('for a player it prints bars, chords, thumbs, notes and fingers, and what to listen for', async () => {
    const { status, stdout } = await ask(demo, '--kind', 'thumbs', '--bars', '5-6');
    expect(status).toBe(0);
    expect(stdout).toContain('Listen for: ');
    // thumbs of the minor-six family of A half-diminished and D altered: C, D; E♭, F (docs/plan.md)
    expect(stdout).toMatch(/^1 +Am7♭5 +[CD] +thumbs alone +[CD]4·1$/mu);
    expect(stdout).toMatch(/^2 +D7alt +(E♭|F) +(E♭|F)4·1$/mu);
  });
  test('writes a sheet, notation and MIDI; nothing of another kind', async () => {
    const order = [demo, '--kind', 'guide-tones', '--bars', '1-2', '--keys', 'Eb,F'];
    // the sheet as one starts it: with the program's own fonts and engraver
    const sheet = run(...order, '-o', 'a.pdf');
    expect(sheet.status, sheet.stderr).toBe(0);
    for (const name of ['a.musicxml', 'a.mid']) {
      const { status, stderr } = await ask(...order, '-o', join(folder, name));
      expect(status, stderr).toBe(0);
    }
    const [pdf, xml, midi] = ['a.pdf', 'a.musicxml', 'a.mid'].map((name) => readFileSync(join(folder, name), 'latin1'));
    expect(pdf?.startsWith('%PDF-')).toBe(true);
    expect(xml?.match(/<key>/gu)).toHaveLength(2);
    expect(midi?.startsWith('MThd')).toBe(true);
    const wrong = await ask(...order, '-o', join(folder, 'a.docx'));
    expect(wrong.status).toBe(2);
    expect(wrong.stderr).toContain('.pdf, .musicxml, .mid, .wav');
    expect(existsSync(join(folder, 'a.docx'))).toBe(false);
  });
  test('is heard: a WAV as long as its bars at their tempo, with sound in it', () => {
    const { status, stderr } = run(demo, '--kind', 'same-line', '--bars', '5', '--tempo', '240', '-o', 'a.wav');
    expect(status, stderr).toBe(0);
    const wav = readFileSync(join(folder, 'a.wav'));
    // source: RIFF WAVE, from memory: 44.1 kHz, 16 bits, two channels
    expect([wav.toString('latin1', 0, 4), wav.readUInt32LE(24)]).toEqual(['RIFF', 44_100]);
    const seconds = (wav.length - 44) / 4 / 44_100;
    // two bars counted in and one played at ♩ = 240, and what rings on
    expect(seconds).toBeGreaterThan(3);
    expect(seconds).toBeLessThan(12);
    const loudest = Array.from({ length: 2000 }, (_, at) => Math.abs(wav.readInt16LE(44 + at * 176)));
    expect(Math.max(...loudest)).toBeGreaterThan(1000);
  });
  test('a phrase that the lesson keeps is the line, in every key; by a name that it has', async () => {
    const phrase: Phrase = {
      name: 'down a third',
      part: 'chorus',
      lengthTicks: 3840,
      chords: [{ onsetTicks: 0, symbol: 'Fm7' }],
      notes: [
        { onsetTicks: 0, durationTicks: 960, key: 80 },
        { onsetTicks: 960, durationTicks: 960, key: 77 },
      ],
    };
    const choices = { ...DEFAULT_CHOICES, phrases: [phrase] };
    const document = writeLessonDocument({ chartText: readFileSync(demo, 'utf8'), choices, engine: ENGINE_VERSION });
    const kept = join(folder, 'kept.json');
    writeFileSync(kept, document);
    const order = [kept, '--kind', 'same-line', '--keys', 'fifths', '--key-count', '3'];
    const { status, stdout, stderr } = await ask(...order, '--phrase', 'Down a third', '--json');
    expect(status, stderr).toBe(0);
    const { keys } = JSON.parse(stdout) as Report;
    expect(keys.map(({ rightHand }) => rightHand.map(({ midi }) => midi - (rightHand[0]?.midi ?? 0)))).toEqual([
      [0, -3],
      [0, -3],
      [0, -3],
    ]);
    expect((await ask(...order, '--phrase', 'up')).stderr).toContain("it has: 'down a third'");
    expect((await ask(kept, '--kind', 'thumbs', '--phrase', 'up')).status).toBe(2);
  });
  test('wrong options and bars that are not there are told', async () => {
    expect((await ask(demo, '--kind', 'scales')).stderr).toContain('--kind takes finger-patterns, family');
    const told = (...words: string[]) => ask(demo, '--kind', 'thumbs', ...words);
    expect((await told('--keys', 'sevenths')).stderr).toContain('--keys takes fourths, fifths');
    expect((await told('--key-count', '13')).stderr).toContain('from 1 to 12');
    const missing = await told('--bars', '90-91');
    expect(missing.status).toBe(1);
    expect(missing.stderr).toContain('the chart has none of the bars 90 to 91: it ends with bar 16');
  });
});
