import { expect, test } from 'vitest';
import { analyse, NO_ANALYSIS_PINS, readChart } from '@fivespan/core';
import { headingOf } from './heading.ts';

const headed = (text: string): string => {
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return headingOf('Own', analyse(chart.value, NO_ANALYSIS_PINS));
};

test('where two keys lie close both are named, and the teacher chooses; a key that is stated has no other', () => {
  expect(headed('| Am | F | C | G |')).toContain('A minor (or G major: a key: line decides)');
  expect(headed('key: A minor\n| Am | F | C | G |')).not.toContain('decides');
  expect(headed('| Dm7 | G7 | Cmaj7 | % |')).toContain('C major ·');
});
