import {
  DEFAULT_CHOICES,
  formatKey,
  inTurn,
  keysAlong,
  makeLesson,
  parseKey,
  playProgramme,
  readChart,
  TRIO_PLAYERS,
  type Key,
  type Programme,
  NO_AIDS,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { courseFrom, lineSeconds, loopSeconds, turnSeconds, type LoopBars } from './course.ts';
import { formViewOf, isSamePlace } from './form-view.ts';
import { momentAt } from './moment.ts';
import { nextSaid, type Said } from './next-said.ts';
import type { BarPlace, Piece } from './piece.ts';

const CHART = 'key: C major\ntempo: 120\n\nA:\n| Dm7 G7 | Cmaj7 |\nB:\n| Fm7 Bb7 | Cmaj7 |\n';

function pieceOf(text: string, choruses: Programme['choruses'], countInBars = 2, aids = NO_AIDS): Piece {
  const chart = readChart(text);
  if (!chart.ok) throw new Error('the chart must be right');
  const played = playProgramme(chart.value, DEFAULT_CHOICES, {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars,
    aids,
    choruses,
  });
  if (played === undefined) throw new Error('nobody cancelled this');
  const forms = new Map(
    [...new Set(played.segments.map(({ key }) => formatKey(key)))].map((name) => [
      name,
      formViewOf(makeLesson(chart.value, DEFAULT_CHOICES, parseKey(name) as Key)),
    ]),
  );
  return {
    ...played,
    number: 1,
    forms: played.segments.map(({ key }) => forms.get(formatKey(key)) as Piece['forms'][number]),
  };
}

const C = parseKey('C major') as Key;
const inKeys = (keys: number, tempi: readonly number[] = [120]): Programme['choruses'] =>
  inTurn({ keys: keysAlong(C, 'fourths').slice(0, keys), tempi, choruses: 1, players: TRIO_PLAYERS });

/** Two bars of count-in at 120: 4 s; a chorus of four bars: 8 s. */
const THREE = pieceOf(CHART, inKeys(3));
const from = (piece: Piece, place: BarPlace = { chorus: 0, bar: 0 }, loop: LoopBars | null = null) =>
  courseFrom(piece, place, loop);

describe('a moment', () => {
  const course = from(THREE);
  const at = (seconds: number) => momentAt(THREE, course, seconds, false);

  test('of the count-in shows the first thumb and counts down to it', () => {
    const beats = Array.from({ length: 8 }, (_, beat) => at(beat * 0.5));
    expect(beats.map(({ kind }) => kind)).toEqual(Array.from({ length: 8 }, () => 'count-in'));
    expect(beats.map(({ next }) => next?.beats)).toEqual([8, 7, 6, 5, 4, 3, 2, 1]);
    expect(beats.map(({ beat }) => beat)).toEqual([0, 1, 2, 3, 0, 1, 2, 3]);
    expect(beats[0]?.hand).toEqual(THREE.forms[1]?.slots[0]?.hand);
    expect(beats[0]?.chord).toBeNull();
  });

  test('changes on the beat and not before', () => {
    expect(at(4 - 0.001).kind).toBe('count-in');
    expect(at(4)).toMatchObject({ kind: 'chorus', chorus: 0, bar: 0, beat: 0 });
    expect(at(4.999)).toMatchObject({ bar: 0, beat: 1 });
    // the second chord of the first bar
    expect(at(5)).toMatchObject({ bar: 0, beat: 2 });
    expect(at(5).chord).toEqual(THREE.forms[1]?.slots[1]?.chord);
    expect(at(6)).toMatchObject({ bar: 1, beat: 0 });
  });

  test('knows chorus and key, and looks on into the next chorus', () => {
    expect(at(12)).toMatchObject({ chorus: 1, key: keysAlong(C, 'fourths')[1] });
    expect(at(20)).toMatchObject({ chorus: 2, bar: 0 });
    for (let seconds = 4; seconds < 27.9; seconds += 0.5) {
      const { next, hand } = at(seconds);
      if (next === null) continue;
      expect(isSamePlace(next.hand, hand)).toBe(false);
      // there it is, so many beats later; one beat before it is not
      expect(isSamePlace(at(seconds + next.beats * 0.5).hand, next.hand)).toBe(true);
      expect(isSamePlace(at(seconds + next.beats * 0.5 - 0.01).hand, next.hand)).toBe(false);
    }
  });

  test('of the ending has nowhere to go', () => {
    expect(at(28.1)).toMatchObject({ kind: 'ending', chord: null, next: null, bar: 3 });
    expect(at(1000).kind).toBe('ending');
  });

  test('has one id as long as it looks the same', () => {
    const seen = new Map<string, string>();
    for (let seconds = 0; seconds < 30; seconds += 0.05) {
      const moment = at(seconds);
      const looks = JSON.stringify(moment);
      expect(seen.get(moment.id) ?? looks).toBe(looks);
      seen.set(moment.id, looks);
    }
  });
});

describe('a course', () => {
  test('from the top is the piece from its start', () => {
    expect(from(THREE)).toMatchObject({ startSeconds: 0, jump: null, loop: null });
  });

  test('from any bar is counted in, then jumps there a moment before the bar line', () => {
    const course = from(THREE, { chorus: 1, bar: 2 });
    expect(course.startSeconds).toBe(0);
    if (course.jump === null) throw new Error('must jump');
    const { leave, enter } = turnSeconds(THREE, course.jump, course.earlySeconds);
    expect(leave).toBeCloseTo(4 - course.earlySeconds, 9);
    expect(enter).toBeCloseTo(12 + 4 - course.earlySeconds, 9);
    // nobody strays further than this: core, perform-trio.ts
    expect(course.earlySeconds).toBeGreaterThan(0.015);
    const before = momentAt(THREE, course, leave - 0.2, false);
    expect(before).toMatchObject({ kind: 'count-in', chorus: 1, bar: 2, next: { beats: 1 } });
    // in the moment between the jump and the bar line one still sees the count-in
    expect(momentAt(THREE, course, enter + 0.001, false).kind).toBe('count-in');
    expect(momentAt(THREE, course, 16, false)).toMatchObject({ kind: 'chorus', chorus: 1, bar: 2, beat: 0 });
  });

  test('without a count-in begins at the bar', () => {
    const piece = pieceOf(CHART, inKeys(1), 0);
    const course = from(piece, { chorus: 0, bar: 1 });
    expect(course.jump).toBeNull();
    expect(course.startSeconds).toBeCloseTo(2 - course.earlySeconds, 9);
  });

  test('with another tempo is counted in at that tempo', () => {
    const piece = pieceOf(CHART, inKeys(1, [120, 60]));
    const course = from(piece, { chorus: 1, bar: 1 });
    const countIn = piece.segments[2];
    expect(countIn).toMatchObject({ kind: 'count-in', tempoBpm: 60 });
    expect(course.startSeconds).toBe(countIn?.startSeconds);
    expect(course.jump?.leave).toEqual({ segment: 2, ticks: 8 * 960 });
    expect(lineSeconds(piece, course.jump?.enter ?? { segment: 0, ticks: 0 })).toBeCloseTo(4 + 8 + 8 + 4, 9);
  });

  test('with a loop goes round its bars, and what comes next is looked for round the corner', () => {
    const loop = { chorus: 0, fromBar: 1, toBar: 2 };
    const course = from(THREE, { chorus: 2, bar: 3 }, loop);
    const stretch = loopSeconds(THREE, course);
    expect(stretch?.fromSeconds).toBeCloseTo(6 - course.earlySeconds, 9);
    expect(stretch?.toSeconds).toBeCloseTo(10 - course.earlySeconds, 9);
    expect(momentAt(THREE, course, 0, false)).toMatchObject({ kind: 'count-in', chorus: 0, bar: 1 });
    // begun again, but not yet on the bar line: still the last beat of the last bar
    expect(momentAt(THREE, course, 6 - 0.001, true)).toMatchObject({ bar: 2, beat: 3 });
    expect(momentAt(THREE, course, 6, true)).toMatchObject({ bar: 1, beat: 0 });
    const last = momentAt(THREE, course, 9.5, true);
    const first = THREE.forms[1]?.slots.find(({ startTicks }) => startTicks >= 4 * 960);
    if (!isSamePlace(last.hand, first?.hand ?? null)) expect(last.next).toEqual({ hand: first?.hand, beats: 1 });
  });
});

describe('a rest', () => {
  const aids = { ...NO_AIDS, restBars: 1 };
  test('between choruses shows what comes after it', () => {
    const piece = pieceOf(CHART, inKeys(2), 2, aids);
    const rest = piece.segments[2]!;
    expect(rest.kind).toBe('rest');
    const last = momentAt(piece, from(piece), rest.startSeconds - 0.1, false);
    expect(last).toMatchObject({ kind: 'chorus', chorus: 0, bar: 3 });
    const moment = momentAt(piece, from(piece), rest.startSeconds + 0.1, false);
    expect(moment).toMatchObject({ kind: 'rest', chorus: 1, bar: 0, chord: null, comingChord: { beats: 4 } });
    expect(moment.hand).toEqual(piece.forms[3]?.slots[0]?.hand);
  });

  test.each([
    ['between choruses', pieceOf(CHART, inKeys(2), 2, aids), 2],
    ['of one chorus, in the last bar of its count-in', pieceOf(CHART, inKeys(1), 2, aids), 0],
  ])('before looped bars begin again is that %s', (_, piece, segment) => {
    const loop = { chorus: 0, fromBar: 1, toBar: 2 };
    const course = courseFrom(piece, { chorus: 0, bar: 1 }, loop, 1);
    const { rest } = loopSeconds(piece, course)!;
    expect(course.rest?.from.segment).toBe(segment);
    expect((rest?.toSeconds ?? 0) - (rest?.fromSeconds ?? 0)).toBeCloseTo(2, 9);
    // turned a moment before the line: still the bar that was
    expect(momentAt(piece, course, (rest?.fromSeconds ?? 0) + 0.001, true)).toMatchObject({ kind: 'chorus', bar: 2 });
    const resting = momentAt(piece, course, (rest?.fromSeconds ?? 0) + 0.6, true);
    expect(resting).toMatchObject({ kind: 'rest', chorus: 0, bar: 1, comingChord: { beats: 3 } });
    expect(momentAt(piece, course, lineSeconds(piece, course.loop!.enter), true)).toMatchObject({ bar: 1, beat: 0 });
  });
});

test('whose turn it is', () => {
  const piece = pieceOf(CHART, inKeys(1), 2, { ...NO_AIDS, answers: 'twos' });
  const turns = [4, 8, 11].map((seconds) => momentAt(piece, from(piece), seconds, false).whoseTurn);
  expect(turns).toEqual(['listen', 'answer', 'answer']);
  expect(momentAt(THREE, from(THREE), 8, false).whoseTurn).toBeNull();
});

test('a pickup is no bar of its own; the count-in makes room for it', () => {
  const piece = pieceOf('key: C major\ntempo: 120\npickup: 1\n\n| G7 | Cmaj7 | Dm7 | G7 |\n', inKeys(1), 1);
  const course = from(piece);
  const chorus = piece.segments.find(({ kind }) => kind === 'chorus');
  const first = momentAt(piece, course, chorus?.startSeconds ?? 0, false);
  expect(first).toMatchObject({ kind: 'chorus', bar: 0, beat: 0 });
  expect(first.bars).toHaveLength(3);
});

describe('bars', () => {
  test('are counted as the chart counts them, and which time they are played is told', () => {
    const piece = pieceOf('key: C major\ntempo: 120\n\nA:\n|: Dm7 | G7 :|\nB:\n| Cmaj7 | Am7 |\n', inKeys(1));
    expect(piece.forms[0]?.bars.map(({ number, pass, passes }) => [number, pass, passes])).toEqual([
      [1, 1, 2],
      [2, 1, 2],
      [1, 2, 2],
      [2, 2, 2],
      [3, 1, 1],
      [4, 1, 1],
    ]);
  });
});

test('the hand has the sign of its shape, as the pages have it: the shape used most has none', () => {
  const text = 'key: C minor\ntempo: 120\n\n| Cm6 | Cm7 | Fm7 | Dm7b5 | Cm(maj7) | Fm7 |\n';
  const { slots } = pieceOf(text, inKeys(1)).forms[0]!;
  const hands = slots.flatMap(({ hand }) => (hand === null ? [] : [hand]));
  const uses = (mark: string): number => hands.filter((hand) => hand.mark === mark).length;
  expect(new Set(hands.map(({ mark }) => mark)).size).toBeGreaterThan(1);
  expect(uses('')).toBeGreaterThanOrEqual(uses('′'));
  // one sign a shape, one shape a sign
  const pairs = new Set(hands.map(({ mark, position }) => `${mark} ${position.shape.id}`));
  expect(pairs.size).toBe(new Set(hands.map(({ mark }) => mark)).size);
  expect(pairs.size).toBe(new Set(hands.map(({ position }) => position.shape.id)).size);
});

test('the next place is said when it becomes another, and never twice in a bar', () => {
  const course = from(THREE);
  let said: Said | null = null;
  const told: { readonly seconds: number; readonly said: Said }[] = [];
  for (let seconds = 0; seconds < 30; seconds += 0.05) {
    const now = nextSaid(said, momentAt(THREE, course, seconds, false));
    if (now !== null && now !== said) told.push({ seconds, said: now });
    said = now;
  }
  // the first thumb once, in the count-in
  expect(told[0]).toMatchObject({ seconds: 0, said: { isFirst: true, hand: THREE.forms[1]?.slots[0]?.hand } });
  expect(told.filter((each) => each.said.isFirst)).toHaveLength(1);
  expect(told.length).toBeGreaterThan(3);
  expect(new Set(told.map((each) => each.said.barId)).size).toBe(told.length);
  for (const [index, each] of told.slice(1).entries()) {
    const before = told[index]!.said;
    expect(isSamePlace(before.hand, each.said.hand) && before.isFirst === each.said.isFirst).toBe(false);
  }
});
