import { barsOf, DEFAULT_CHOICES, readChart, writeLessonDocument } from '@fivespan/core';
import { expect, test } from 'vitest';
import { asChartText } from './pasted-chart.ts';
import { readChartContent, readContent } from './read-content.ts';

test('a chart as people send it: a first line that is no chord is its title, [A] and x2 are read', () => {
  const content = readChartContent('Pale Lantern\n\n[A]\n| Fm7 | Bb7 | x2\n[B] | Ebmaj7 | Ab6 |\n| Gm7 | C7 | (3x)\n');
  if (content.kind !== 'lesson') throw new Error(JSON.stringify(content));
  expect(content.issues).toEqual([]);
  expect(content.chartText).toBe(
    'title: Pale Lantern\n\nA:\n|: Fm7 | Bb7 :|x2\nB: | Ebmaj7 | Ab6 |\n|: Gm7 | C7 :|x3\n',
  );
  const read = readChart(content.chartText);
  if (!read.ok) throw new Error('must be right');
  expect(read.value.title).toBe('Pale Lantern');
  expect(read.value.sections.map(({ name }) => name)).toEqual(['A', 'B']);
  expect(barsOf(read.value).map(({ endsRepeatTimes }) => endsRepeatTimes)).toEqual([0, 2, 0, 0, 0, 3]);
});

test.each([
  'title: A\nkey: Eb major\n\nA:\n| Fm7 | Bb7 |: Gm7 :|x3 Cm7 |\n',
  'Fm7 | Bb7 | Ebmaj7',
  'Fm7 Bb7\n| Ebmaj7 |',
  '# a comment\n| Fm7 |\r\n| Bb7 |]\r\n',
  '|: Fm7 | Bb7 :| x2\n',
  '| C / E7 / | N.C. |\n| % |',
  '',
])('what is chart text already stays as it is: %j', (text) => {
  expect(asChartText(text)).toBe(text);
});

test('a title is found behind comments and a byte order mark, and only where bars follow', () => {
  expect(asChartText('\uFEFF# mine\n  Two Bridges  \n| C |')).toBe('\uFEFF# mine\ntitle: Two Bridges\n| C |');
  expect(asChartText('Dear all\nsee you on Monday')).toBe('Dear all\nsee you on Monday');
});

test('the text of a lesson file is left as it is', async () => {
  const chartText = 'title: T\n| Fm7 | Bb7 |\n';
  const bytes = new TextEncoder().encode(writeLessonDocument({ chartText, choices: DEFAULT_CHOICES, engine: 1 }));
  expect(await readContent(bytes, 'lesson')).toMatchObject({ kind: 'lesson', chartText });
});
