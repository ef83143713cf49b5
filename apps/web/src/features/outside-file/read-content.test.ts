import {
  DEFAULT_CHOICES,
  LONGEST_CHART_CHARACTERS,
  parseKey,
  readChart,
  writeLessonDocument,
  type Key,
} from '@fivespan/core';
import { writeLeadSheet } from '@fivespan/formats/musicxml';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { writeBackup } from '../backup/backup-document.ts';
import { kindOf } from './file-kind.ts';
import { readContent } from './read-content.ts';

const CHART = 'title: Three Lamps\nkey: G major\n| Am7 | D7 | Gmaj7 | % |\n';
const LESSON = writeLessonDocument({ chartText: CHART, choices: { ...DEFAULT_CHOICES, seed: 9 }, engine: 1 });
const read = readChart(CHART);
if (!read.ok) throw new Error('the chart above must be readable');
const SCORE = writeLeadSheet(read.value);
const CONTAINER =
  '<container><rootfiles><rootfile full-path="score.xml" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>';

const keyOf = (name: string): Key => parseKey(name) as Key;
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const readFile = (bytes: Uint8Array) => readContent(bytes, kindOf(bytes.subarray(0, 512)));

describe('what a file is, its content says', () => {
  test.each([
    ['chart', bytesOf(CHART)],
    ['chart', bytesOf('| Fm7 |')],
    ['chart', new Uint8Array(0)],
    ['lesson', bytesOf(LESSON)],
    ['lesson', bytesOf(`\uFEFF\n ${LESSON}`)],
    ['backup', bytesOf(writeBackup([]).join(''))],
    ['lead sheet', bytesOf(SCORE)],
    ['lead sheet', bytesOf('<!DOCTYPE html><p>')],
    ['lead sheet', zipSync({ 'score.xml': strToU8(SCORE) })],
    ['lead sheet', new Uint8Array([0xff, 0xfe, 0x3c, 0, 0x3f, 0])],
  ])('%s', (kind, bytes) => {
    expect(kindOf(bytes.subarray(0, 512))).toBe(kind);
  });
});

test('a lead sheet comes as its chart, plain and packed', async () => {
  const packed = zipSync({ 'META-INF/container.xml': strToU8(CONTAINER), 'score.xml': strToU8(SCORE) });
  for (const bytes of [bytesOf(SCORE), packed]) {
    const content = await readFile(bytes);
    expect(content).toMatchObject({ kind: 'lesson', source: 'lead sheet' });
    const again = content.kind === 'lesson' ? readChart(content.chartText) : undefined;
    expect(again?.ok === true && again.value.title).toBe('Three Lamps');
  }
});

test('a lesson file comes with its chart byte for byte and its choices', async () => {
  expect(await readFile(bytesOf(LESSON))).toMatchObject({ kind: 'lesson', chartText: CHART, choices: { seed: 9 } });
});

test('text as some editors save it, in UTF-16 with its mark, is read', async () => {
  for (const [text, kind] of [
    [CHART, 'chart'],
    [LESSON, 'lesson'],
  ] as const) {
    const littleEndian = new Uint8Array(Buffer.from(`\uFEFF${text}`, 'utf16le'));
    const bigEndian = littleEndian.map((_, index) => littleEndian[index ^ 1] ?? 0);
    for (const bytes of [littleEndian, bigEndian]) {
      expect(await readFile(bytes)).toMatchObject({ kind: 'lesson', source: kind, chartText: CHART });
    }
  }
});

test('keys of the other mode are mended as the command line mends them, and that is told', async () => {
  const asked = { ...DEFAULT_CHOICES, keys: [keyOf('E minor'), keyOf('E major')] };
  const lesson = writeLessonDocument({ chartText: CHART, choices: asked, engine: 1 });
  expect(await readFile(bytesOf(lesson))).toMatchObject({
    kind: 'lesson',
    choices: { keys: [keyOf('E major')] },
    issues: [{ code: 'lesson.engine' }, { code: 'lesson.key-mode' }],
  });
});

test('what is longer than the reader of charts takes is refused with its limit, plain and in a lesson', async () => {
  const long = `words ${'x'.repeat(LONGEST_CHART_CHARACTERS)}`;
  const refused = {
    kind: 'refused',
    issues: [{ code: 'chart.too-large', args: { limit: LONGEST_CHART_CHARACTERS } }],
  };
  expect(await readFile(bytesOf(long))).toMatchObject(refused);
  const lesson = writeLessonDocument({ chartText: long, choices: DEFAULT_CHOICES, engine: 1 });
  expect(await readFile(bytesOf(lesson))).toMatchObject(refused);
});

test('a chart with faults comes with them; a text without bars does not', async () => {
  const faulty = await readFile(bytesOf('title: X\n| Fm7 | Hx9 |'));
  expect(faulty).toMatchObject({ kind: 'lesson', chartText: 'title: X\n| Fm7 | Hx9 |' });
  expect(faulty.kind === 'lesson' && faulty.issues.length).toBeGreaterThan(0);
  expect(await readFile(bytesOf('Dear reader, this is a letter.'))).toMatchObject({
    kind: 'refused',
    issues: [{ code: 'chart.empty' }],
  });
});

describe('what is damaged or hostile is refused with a reason', () => {
  test.each([
    ['truncated lesson', bytesOf(LESSON.slice(0, -30)), 'lesson.not-json'],
    ['newer lesson', bytesOf(LESSON.replace(/"version": \d+/u, '"version": 9')), 'lesson.newer'],
    ['truncated zip', zipSync({ 'score.xml': strToU8(SCORE) }).subarray(0, 300), 'musicxml.damaged-zip'],
    ['bytes that are no text', new Uint8Array([0x80, 0x81, 0xfe, 0x00, 0x7c]), 'file.not-text'],
    ['a bomb', zipSync({ 'score.xml': new Uint8Array(60_000_000) }, { level: 9 }), 'musicxml.too-large'],
    ['too long a chart', bytesOf('| Fm7 '.repeat(400_000)), 'chart.too-large'],
  ])('%s', async (_name, bytes, code) => {
    expect(await readFile(bytes)).toMatchObject({ kind: 'refused', issues: [{ code }] });
  });

  test('a truncated score', async () => {
    const content = await readFile(bytesOf(SCORE.slice(0, SCORE.length / 2)));
    expect(content.kind).toBe('refused');
  });

  test('a truncated or newer backup', async () => {
    const [text = ''] = writeBackup([]);
    expect((await readFile(bytesOf(text.slice(0, -4)))).kind).toBe('damaged backup');
    expect((await readFile(bytesOf(text.replace('"version": 1', '"version": 3')))).kind).toBe('newer backup');
  });
});
