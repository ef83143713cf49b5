import type { Score } from '@fivespan/core';
import { expect, test } from 'vitest';
import { withLine } from './one-line.ts';

/** As much of a score as is asked: how many notes each staff has. */
const scoreOf = (right: number, left: number): Score =>
  ({
    staves: [
      { role: 'right hand', notes: Array.from({ length: right }) },
      { role: 'left hand', notes: Array.from({ length: left }) },
    ],
  }) as unknown as Score;

test('later lines go on naming their own notes where a note was put in before them', () => {
  const shown = ['<g data-note="note-0-1-0"/>', 'changed', '<g data-note="note-0-9-1"/><g data-note="note-1-4-0"/>'];
  const line = { system: 1, bars: { from: 4, to: 8 } };
  expect(withLine(shown, line, ['one', 'two'], scoreOf(12, 8), scoreOf(13, 8))).toEqual([
    shown[0],
    'one',
    'two',
    '<g data-note="note-0-10-1"/><g data-note="note-1-4-0"/>',
  ]);
});
