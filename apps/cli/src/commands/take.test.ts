import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, makeLesson, readChart } from '@fivespan/core';
import { writeMidi } from '@fivespan/formats/midi';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const bin = join(import.meta.dirname, '../../bin/fivespan.mjs');
const demo = join(import.meta.dirname, '../../../../examples/DEMO.chart');
let folder: string;

const run = (...words: string[]) =>
  spawnSync(process.execPath, [bin, 'take', ...words], { cwd: folder, encoding: 'utf8' });

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fivespan-take-'));
  const chart = readChart(readFileSync(demo, 'utf8'));
  if (!chart.ok) throw new TypeError('the demo must be a chart');
  const { score, performance } = makeLesson(chart.value, DEFAULT_CHOICES);
  writeFileSync(join(folder, 'own.mid'), writeMidi(score, performance));
  const slower = {
    ...performance,
    parts: performance.parts.map((part) => ({ ...part, notes: part.notes.map(rushed) })),
  };
  writeFileSync(join(folder, 'rushed.mid'), writeMidi(score, slower));
  writeFileSync(join(folder, 'text.mid'), 'no MIDI file');
  run('--help'); // builds once, so that no test's time depends on it
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Twenty milliseconds ahead for every bar. */
function rushed<Note extends { readonly startSeconds: number }>(note: Note): Note {
  return { ...note, startSeconds: note.startSeconds * (1 - 0.02 / ((4 * 60) / 132)) };
}

describe('fivespan take', () => {
  test('our own file raises nothing; JSON has the bars with positions', () => {
    const { status, stdout, stderr } = run('own.mid', '--chart', demo, '--json');
    expect(status, stderr).toBe(0);
    const report = JSON.parse(stdout) as {
      version: number;
      bars: { bar: number; slots: { slot: string; positions: { thumb: string; shape: string; share: number }[] }[] }[];
      findings: unknown[];
      wentWell: string[];
      workOn: string[];
    };
    expect(report.version).toBe(1);
    expect(report.bars).toHaveLength(16);
    expect(report.bars[0]?.slots[0]?.positions[0]).toMatchObject({ thumb: 'F', shape: 'minor pentatonic' });
    expect(report.findings).toEqual([]);
    expect(report.workOn).toEqual([]);
    expect(report.wentWell.length).toBeGreaterThan(2);
  });

  test('a rushed one says so in words, with a step to start', () => {
    const { status, stdout } = run('rushed.mid', '--chart', demo);
    expect(status).toBe(0);
    expect(stdout).toMatch(/To work on:\n {2}1\. (Both hands|The (right|left) hand) ran ahead in bars/u);
    expect(stdout).toContain('Loop bars');
  });

  test('what is no MIDI file, no chart, no tempo: told, nothing thrown', () => {
    const told = run('text.mid', '--chart', demo);
    expect(told.status).toBe(1);
    expect(told.stderr).toContain('damaged');
    expect(run('own.mid').stderr).toContain('--chart CHART is missing');
    expect(run('own.mid', '--chart', demo, '--tempo', 'fast').stderr).toContain('--tempo takes beats a minute');
    expect(run('own.mid', '--chart', demo, '--count-in', '-1').status).toBe(2);
    expect(JSON.parse(run('none.mid', '--chart', demo, '--json').stdout)).toMatchObject({
      issues: [{ code: 'file.missing' }],
    });
  });
});
