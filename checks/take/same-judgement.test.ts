/**
 * Source: issue 'Takes': "`fivespan take TAKE.mid --chart CHART` does the same from files": what the workbench says of a take and
 * what the command says of the same file are one JSON. Takes are made here: as asked for with a fault, in another key, without a tempo.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  DEFAULT_CHOICES,
  ENGINE_VERSION,
  makeLesson,
  readChart,
  reportTake,
  writeLessonDocument,
  type Midi,
  type Performance,
} from '@fivespan/core';
import { writeMidi } from '@fivespan/formats/midi';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { takeFileJob, takeInJob } from '../../apps/web/src/features/takes/take-file-job.ts';
import { judgeOpened, openedTake, viewOfTake } from '../../apps/web/src/features/takes/take-view.ts';

const CHART =
  'title: Quick Ford\nkey: F major\ntempo: 160\n\nA:\n| Gm7 | C7 | Fmaj7 | D7 |\n| Gm7 | C7 | Fmaj7 | % |\n| Cm7 | F7 | Bbmaj7 | % |\n| Gm7 | C7 | Fmaj7 | % |\n';
const chart = readChart(CHART);
if (!chart.ok) throw new TypeError('the chart must be right');
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);
const document = writeLessonDocument({ chartText: CHART, choices: DEFAULT_CHOICES, engine: ENGINE_VERSION });
const bin = join(import.meta.dirname, '../../apps/cli/bin/fivespan.mjs');
const watch = { report: () => undefined, isCancelled: () => false, breathe: () => Promise.resolve() };

type Played = Performance['parts'][number]['notes'][number];

const up = ({ midi }: Played, by: number): Midi => (midi + by) as Midi;

function midiOf(by: (note: Played) => Played): Uint8Array {
  const hands = lesson.performance.parts.filter(({ player }) => player === 'right hand' || player === 'left hand');
  return writeMidi(lesson.score, {
    ...lesson.performance,
    parts: hands.map((part) => ({ ...part, notes: part.notes.map(by) })),
  });
}

/** The tempo's event taken out of a file: a length of three bytes after FF 51. Source: Standard MIDI Files 1.1. */
function withoutTempo(bytes: Uint8Array): Uint8Array {
  const at = bytes.findIndex((each, index) => each === 0xff && bytes[index + 1] === 0x51 && bytes[index + 2] === 3);
  const half = bytes.slice();
  // 120, which states nothing
  half.set([0x07, 0xa1, 0x20], at + 3);
  return half;
}

const TAKES: readonly (readonly [name: string, bytes: Uint8Array])[] = [
  [
    'two bars outside, dragging',
    midiOf((note) => ({
      ...note,
      startSeconds: note.startSeconds * 1.012,
      midi: up(note, note.startSeconds > 6 && note.startSeconds < 9 ? 1 : 0),
    })),
  ],
  ['a whole step up', midiOf((note) => ({ ...note, midi: up(note, 2) }))],
  ['no tempo stated', withoutTempo(midiOf((note) => note))],
];

describe('a take in the workbench and by the command', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'fivespan-same-'));
    writeFileSync(join(folder, 'lesson.json'), document);
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  const byCommand = (bytes: Uint8Array): unknown => {
    writeFileSync(join(folder, 'take.mid'), bytes);
    const words = [bin, 'take', 'take.mid', '--chart', 'lesson.json', '--json'];
    const { stdout, stderr } = spawnSync(process.execPath, words, { cwd: folder, encoding: 'utf8' });
    if (stdout === '') throw new Error(stderr);
    return JSON.parse(stdout);
  };

  test.each(TAKES)('%s: one JSON, and what is saved from the workbench says the same', async (name, bytes) => {
    const value = (await takeInJob({ bytes, lessonId: 'ford', document }, watch as never))?.value;
    if (value?.kind !== 'take') throw new Error(JSON.stringify(value));
    const opened = openedTake(value.take);
    if (opened.kind !== 'opened') throw new Error('it must be readable');
    const { heard, tempoBpm, beatsSure } = judgeOpened(opened);
    const own = JSON.parse(JSON.stringify(reportTake(heard, tempoBpm, beatsSure))) as {
      findings: unknown[];
      key: string;
    };
    expect(byCommand(bytes)).toEqual(own);
    // the screen shows these and no others
    const shown = viewOfTake(value.take);
    expect(shown).toMatchObject({
      kind: 'judged',
      view: { workOn: heard.judged.workOn, wentWell: heard.judged.wentWell },
    });
    if (name === 'a whole step up') {
      expect(own).toMatchObject({ key: 'G major', isKeyAsked: false });
      expect(shown).toMatchObject({ view: { keyAsked: lesson.analysis.key } });
    }
    if (!name.startsWith('two bars')) return;
    expect(own.findings.length).toBeGreaterThanOrEqual(2);
    const saved = (await takeFileJob(value.take, watch as never))?.value;
    const again = byCommand(saved as Uint8Array) as { findings: { code: string; bars: number[] }[]; key: string };
    const told = ({ code, bars }: { readonly code: string; readonly bars: readonly number[] }) => ({ code, bars });
    expect(again.findings.map(told)).toEqual(heard.judged.findings.map(told));
    expect(again.key).toBe(own.key);
  });
});
