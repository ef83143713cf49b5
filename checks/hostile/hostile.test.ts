/** Hostile inputs, a few of each kind at every run; any number by hand: bench/hostile.ts. Source: none; the inputs are made here. */
import { describe, expect, test } from 'vitest';
import { readScoreHand, writeScoreFingers, zipOf } from '@fivespan/formats/musicxml';
import { unzipSync } from 'fflate';
import { chanceOf } from './chance.ts';
import { HOSTILE_CASES } from './cases.ts';
import { judgeIssues, Misbehaviour } from './judge.ts';
import { HOSTILE_KINDS, judgeKind } from './kinds.ts';

/** Of each reader's kind; a whole lesson takes a tenth of a second. */
const COUNT = 2000;
const LESSONS = 300;

const told = (input: string | Uint8Array): string =>
  typeof input === 'string' ? input.slice(0, 500) : `${input.length} bytes`;

test.each(HOSTILE_KINDS)(
  '$name: nothing throws, hangs, or is said in machine words',
  (kind) => {
    const count = kind.name === 'whole lessons' ? LESSONS : COUNT;
    const { judged, found } = judgeKind(kind, { seed: 1, count }, () => performance.now());
    expect(judged).toBe(count);
    expect(found.map(({ number, error, input }) => `${number}: ${error.message}\n${told(input)}`)).toEqual([]);
  },
  600_000,
);

describe('what once misbehaved', () => {
  test.each(
    HOSTILE_CASES.map((each) => [`${each.kind}: ${each.did}: ${told(each.input).slice(0, 40)}`, each] as const),
  )('%s', (_name, { kind, input }) => {
    const judge = HOSTILE_KINDS.find(({ name }) => name === kind)?.judge;
    if (judge === undefined) throw new Error(`no kind ${kind}`);
    // what else is drawn: levels, keys, bars, hands
    for (let number = 0; number < 8; number++) judge(input, chanceOf('case', 1, number));
  });

  test('a packed score keeps every entry under its name and in its order', () => {
    const input = HOSTILE_CASES.find(({ kind }) => kind === 'mxl')?.input as Uint8Array;
    const hand = readScoreHand(input, { side: 'right' });
    if (!hand.ok) throw new Error('not read');
    const copy = writeScoreFingers(hand.value, [1]);
    const names: string[] = [];
    unzipSync(copy, { filter: ({ name }) => (names.push(name), false) });
    expect(names).toEqual(['mimetype', '1', '__proto__', 'META-INF/container.xml']);
    expect(copy).toEqual(writeScoreFingers(hand.value, [1]));
    expect(zipOf([], () => true)).toHaveLength(22);
  });
});

describe('the judge can fail', () => {
  test.each([
    ['a machine word', { symbol: 'Fm7', rest: 'NaN', nearest: '' }],
    ['a hang of text', { symbol: 'x'.repeat(5000), rest: '', nearest: '' }],
  ])('%s', (_what, args) => {
    expect(() => judgeIssues([{ code: 'chord.unknown', args, place: {} }], '')).toThrow(Misbehaviour);
  });
  test('a fault of our own, and a place that is none', () => {
    const place = { line: 0 };
    expect(() => judgeIssues([{ code: 'chart.empty', args: {}, place }], '')).toThrow(Misbehaviour);
    expect(() => judgeIssues([{ code: 'lesson.not-computed', args: { reason: '' }, place: {} }], '')).toThrow(
      Misbehaviour,
    );
  });
  test('a kind that throws is found, with the number that makes it again', () => {
    const kind = {
      name: 'thrower',
      make: () => 'x',
      judge: (_: unknown, chance: { upTo: (below: number) => number }) => {
        if (chance.upTo(10) === 0) throw new RangeError('out of range');
      },
    };
    const { found } = judgeKind(kind, { seed: 1, count: 200 }, () => 0);
    expect(found.length).toBeGreaterThan(5);
    expect(judgeKind(kind, { seed: 1, first: found[0]?.number ?? 0, count: 1 }, () => 0).found).toHaveLength(1);
  });
});
