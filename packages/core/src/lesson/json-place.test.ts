import { expect, test } from 'vitest';
import { messageOf } from '../issue/index.ts';
import { readLessonDocument, writeLessonDocument } from './document.ts';
import { ENGINE_VERSION } from './engine.ts';
import { placeOfField, placeOfJsonFault } from './json-place.ts';
import { DEFAULT_CHOICES } from './lesson.ts';

test.each([
  ['', 1, 1],
  ['{', 1, 2],
  ['{"a": 1,}', 1, 9],
  ['{"a": 1}x', 1, 9],
  ['{\n  "a": tru\n}', 2, 8],
  ['{"a" 1}', 1, 6],
  ['[1 2]', 1, 4],
  ['["♭👍", ?]', 1, 8],
  ['{"a": [1, 2', 1, 12],
  ['{a: 1}', 1, 2],
  ["{'a': 1}", 1, 2],
])('where %j stops being JSON', (text, line, column) => {
  expect(() => JSON.parse(text) as unknown).toThrow(SyntaxError);
  expect(placeOfJsonFault(text)).toEqual({ line, column });
});

test.each([
  ['{"a": [1, 2]}', ['a', 1], 1, 11],
  ['{\n "a": {"b": 1},\n "c": [{"b": 2}]\n}', ['c', 0, 'b'], 3, 14],
  ['{"a": 1, "a": 2}', ['a'], 1, 15],
  ['{"♭": 1}', ['♭'], 1, 7],
  ['{"a": {"b": 1}}', ['a', 'missing'], 1, 7],
  ['[]', [0], 1, 1],
])('where a field of %j stands', (text, path, line, column) => {
  expect(placeOfField(text, path)).toEqual({ line, column });
});

test('a fault of a lesson file has line and column, and is said in words', () => {
  const text = writeLessonDocument({ chartText: '| Fm7 |', choices: DEFAULT_CHOICES, engine: ENGINE_VERSION });
  const faultOf = (from: string | RegExp, to: string): string => {
    const read = readLessonDocument(text.replace(from, to));
    if (read.ok) throw new Error('read');
    return read.issues.map((issue) => `${issue.place.line}:${issue.place.column} ${messageOf(issue)}`).join('\n');
  };
  expect(faultOf('"seed": 1', '"seed": 1e999')).toContain('choices.seed: it takes a whole number');
  expect(faultOf('"seed": 1', '"seed": 1e999')).toMatch(/^8:13 /u);
  expect(faultOf('"level": 1', '"level": 9')).toMatch(/choices\.level: it takes 1, 2,? .*or \d/u);
  expect(faultOf(/ {4}"seed": 1,\n/u, '')).toContain('choices.seed: it is missing');
  expect(faultOf('"keys": []', '"keys": ["H major"]')).toContain("it takes a key such as 'Eb major'");
  expect(faultOf('"seed"', '"sead"')).toContain('it is no field of a lesson');
  expect(faultOf('"engine": ', '"engine" ')).toMatch(/^3:/u);
  expect(faultOf('"seed": 1', '"seed": "x"')).toContain('it takes a number');
});

test('a key asked for twice is asked for once', () => {
  const text = writeLessonDocument({ chartText: '| Fm7 |', choices: DEFAULT_CHOICES, engine: ENGINE_VERSION });
  const read = readLessonDocument(text.replace('"keys": []', '"keys": ["Eb major", "F major", "Eb major"]'));
  expect(read.ok && read.value.choices.keys).toHaveLength(2);
});
