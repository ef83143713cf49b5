import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DRILL_KINDS } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const bin = join(import.meta.dirname, '../../bin/fivespan.mjs');
const demo = join(import.meta.dirname, '../../../../examples/DEMO.chart');
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-drill-'));
  run('--help'); // builds once, so that no test's time depends on it
});
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...words: string[]) =>
  spawnSync(process.execPath, [bin, 'drill', ...words], { cwd: folder, encoding: 'utf8' });

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
  test('the same line in six keys is the same line: as far apart, at the same times, with the same fingers', () => {
    const options = '--kind same-line --bars 5-8 --keys fifths --key-count 6 --tempo 80-120 --json';
    const { status, stdout, stderr } = run(demo, ...options.split(' '));
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
  test('for a player it prints bars, chords, thumbs, notes and fingers, and what to listen for', () => {
    const { status, stdout } = run(demo, '--kind', 'thumbs', '--bars', '5-6');
    expect(status).toBe(0);
    expect(stdout).toContain('Listen for: ');
    // thumbs of the minor-six family of A half-diminished and D altered: C, D; E♭, F (docs/plan.md)
    expect(stdout).toMatch(/^1 +Am7♭5 +[CD] +thumbs alone +[CD]4·1$/mu);
    expect(stdout).toMatch(/^2 +D7alt +(E♭|F) +(E♭|F)4·1$/mu);
  });
  test('writes a sheet, notation and MIDI; nothing of another kind', () => {
    const order = [demo, '--kind', 'guide-tones', '--bars', '1-2', '--keys', 'Eb,F'];
    for (const name of ['a.pdf', 'a.musicxml', 'a.mid']) {
      const { status, stderr } = run(...order, '-o', name);
      expect(status, stderr).toBe(0);
    }
    const [pdf, xml, midi] = ['a.pdf', 'a.musicxml', 'a.mid'].map((name) => readFileSync(join(folder, name), 'latin1'));
    expect(pdf?.startsWith('%PDF-')).toBe(true);
    expect(xml?.match(/<key>/gu)).toHaveLength(2);
    expect(midi?.startsWith('MThd')).toBe(true);
    const wrong = run(...order, '-o', 'a.docx');
    expect(wrong.status).toBe(2);
    expect(wrong.stderr).toContain('.pdf, .musicxml, .mid');
    expect(existsSync(join(folder, 'a.docx'))).toBe(false);
  });
  test('wrong options and bars that are not there are told', () => {
    expect(run(demo, '--kind', 'scales').stderr).toContain('--kind takes finger-patterns, family');
    const told = (...words: string[]) => run(demo, '--kind', 'thumbs', ...words);
    expect(told('--keys', 'sevenths').stderr).toContain('--keys takes fourths, fifths');
    const missing = told('--bars', '90-91');
    expect(missing.status).toBe(1);
    expect(missing.stderr).toContain('the chart has none of the bars 90 to 91: it ends with bar 16');
  });
});
