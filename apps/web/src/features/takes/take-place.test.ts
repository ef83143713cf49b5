import { DEFAULT_CHOICES, parseKey, playProgramme, readChart, usualProgramme, type Key } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { courseFrom } from '../playing/course.ts';
import type { Piece } from '../playing/piece.ts';
import { takePlace } from './take-place.ts';

// at 120 a beat is half a second: a bar 2 s, a chorus 8 s, the count-in of two bars 4 s
const read = readChart('title: Ford\nkey: F major\ntempo: 120\n\n| Gm7 | C7 | Fmaj7 | % |\n');
if (!read.ok) throw new Error('the chart must be right');
const key = parseKey('F major') as Key;
const usual = usualProgramme(read.value, key);

function pieceOf(programme: typeof usual): Piece {
  if (!read.ok) throw new Error('the chart must be right');
  const played = playProgramme(read.value, DEFAULT_CHOICES, programme);
  if (played === undefined) throw new Error('nobody cancelled');
  const bars = [0, 1, 2, 3].map((bar) => ({ startTicks: bar * 3840, durationTicks: 3840 }));
  const forms = played.segments.map(() => ({ key, bars, slots: [] })) as unknown as Piece['forms'];
  return { number: 1, players: played.players, segments: played.segments, endSeconds: played.endSeconds, forms };
}
const piece = pieceOf(usual);
const from = courseFrom(piece, { chorus: 0, bar: 0 }, null);
const at = (positionSeconds: number, more: Partial<Parameters<typeof takePlace>[0]> = {}, rate = 1) =>
  takePlace({ piece, course: from, positionSeconds, passes: 0, rate, ...more }, rate);

describe('where a moment lies in a take', () => {
  test('seconds count from bar 1 of the first chorus; the count-in lies before it, the choruses one after the other', () => {
    expect(at(4)?.seconds).toBeCloseTo(0);
    expect(at(3)?.seconds).toBeCloseTo(-1);
    expect(at(4 + 8 + 2.5)?.seconds).toBeCloseTo(10.5);
    expect(at(4 + 24 + 1)?.seconds).toBeCloseTo(25);
    expect(at(5)?.barSeconds).toBeCloseTo(2);
  });
  test('played slower, everything takes longer', () => {
    expect(at(6, {}, 0.5)).toMatchObject({ tempoBpm: 60, seconds: 4, barSeconds: 4 });
  });
  test('counted in to another bar, the count leads there', () => {
    const course = courseFrom(piece, { chorus: 1, bar: 2 }, null);
    expect(at(3, { course })?.seconds).toBeCloseTo(8 + 4 - 1);
  });
  test('each pass of a loop is a chorus of its own', () => {
    expect(at(6, { passes: 2 })?.seconds).toBeCloseTo(18);
  });
  test('another key or tempo is another stretch, counted anew', () => {
    const [row] = usual.choruses;
    if (row === undefined) throw new Error('a row');
    const other = pieceOf({ ...usual, choruses: [row, { ...row, key: parseKey('G major') as Key }] });
    const [first, second] = [at(5, { piece: other }), at(4 + 8 + 1, { piece: other })];
    expect(second?.stretch).not.toBe(first?.stretch);
    expect(second?.seconds).toBeCloseTo(1);
  });
});
