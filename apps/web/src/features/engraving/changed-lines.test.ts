import type { Score } from '@fivespan/core';
import { expect, test } from 'vitest';
import { changedLines, withLines, type EngravedLine } from './changed-lines.ts';

const LINES: readonly EngravedLine[] = [0, 1, 2].map((line) => ({
  bars: { from: line, to: line + 1 },
  startTicks: line * 100,
  endTicks: line * 100 + 100,
}));

/** As much of a score as is asked: notes of one staff by their starts, each 50 ticks long unless it says so. */
const scoreOf = (starts: readonly (number | readonly [number, number])[], other: readonly number[] = []): Score => {
  const notes = (all: readonly (number | readonly [number, number])[]) =>
    all.map((each) =>
      typeof each === 'number'
        ? { startTicks: each, durationTicks: 50 }
        : { startTicks: each[0], durationTicks: each[1] },
    );
  return {
    endTicks: 300,
    bars: [{}, {}, {}],
    chords: [],
    thumbs: [],
    phrases: [],
    staves: [
      { role: 'right hand', notes: notes(starts) },
      { role: 'left hand', notes: notes(other) },
    ],
  } as unknown as Score;
};

const parts = ['right hand', 'left hand'] as const;

test('a line is drawn anew where something in it is another, or sounds into it', () => {
  const before = scoreOf([0, 50, 100, 200], [0]);
  expect(changedLines(before, scoreOf([0, 50, 100, 200], [0]), parts, LINES)).toEqual([]);
  expect(changedLines(before, scoreOf([0, 50, 150, 200], [0]), parts, LINES)).toEqual([1]);
  expect(changedLines(before, scoreOf([0, [50, 80], 130, 200], [0]), parts, LINES)).toEqual([0, 1]);
  expect(changedLines(before, scoreOf([0, 50, 100, 200], [0, 250]), ['right hand'], LINES)).toEqual([]);
  expect(changedLines(before, { ...before, endTicks: 400 }, parts, LINES)).toBeUndefined();
});

test('later lines go on naming their own notes where a note was put in before them', () => {
  const before = scoreOf([0, 100, 200], [0, 200]);
  const after = scoreOf([0, 100, 150, 200], [0, 200]);
  const shown = ['<g data-note="note-0-0-0"/>', 'changed', '<g data-note="note-0-2-1"/><g data-note="note-1-1-0"/>'];
  expect(withLines(shown, LINES, new Map([[1, 'new']]), before, after)).toEqual([
    shown[0],
    'new',
    '<g data-note="note-0-3-1"/><g data-note="note-1-1-0"/>',
  ]);
});
