/**
 * Drills against what stands outside them.
 *
 * Spelling: the judge of checks/theory/spelling-judge.ts, written from docs/spelling.md (common practice, as this house settled it).
 *
 * Fingers: Oscar Beringer and Thomas Dunhill 1900, transcribed by David A. Randolph 2016 (dvdrndlph/pydactyl, MIT), as in
 * ../shared/data/fingering. Where a printed line lies under one hand for five different notes or more in a row, the shape of that
 * stretch is a position; a drill puts finger n on its nth note, and so does the book.
 */
import { readFileSync } from 'node:fs';
import {
  ALL_SHAPES,
  DEFAULT_CHOICES,
  DRILL_KINDS,
  keysRound,
  makeDrill,
  parseKey,
  readChart,
  type Chart,
  type Finger,
  type Key,
} from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { allPrintedLines } from '../hand/beringer.ts';
import { judgeSpelling, wordsOfFault } from '../theory/spelling-judge.ts';

function chartOf(name: string): Chart {
  const read = readChart(readFileSync(new URL(`../../examples/${name}.chart`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} must be a chart`);
  return read.value;
}

describe('every kind is spelled as docs/spelling.md says', () => {
  // three bars of each: one key after the other by half steps comes past every signature
  const charts = [
    ['DEMO', 'Eb major', 5],
    ['winter-platform', 'C minor', 2],
    ['harbour-blues', 'F major', 6],
  ] as const;
  test.each(charts)('%s', (name, home, from) => {
    const keys = keysRound(parseKey(home) as Key, 'half steps up', 1);
    const faults: string[] = [];
    let judged = 0;
    for (const [index, kind] of DRILL_KINDS.entries()) {
      const own = keys.filter((_, at) => at % 6 === index % 6);
      const order = { kind, bars: { from, to: from + 2 }, keys: own, tempi: null };
      const made = makeDrill(chartOf(name), { ...DEFAULT_CHOICES, level: 1 }, order);
      if (!made.ok) throw new Error(`${kind} must be made`);
      for (const { lesson } of made.value.keys) {
        const census = judgeSpelling(lesson);
        judged += Object.values(census.judged).reduce((sum, each) => sum + each, 0);
        faults.push(...census.faults.map((each) => `${kind}: ${wordsOfFault(each)}`));
      }
    }
    expect([...new Set(faults)]).toEqual([]);
    expect(judged).toBeGreaterThan(500);
  });
});

const lines = allPrintedLines();

describe.skipIf(lines === null)(
  `fingers beside the printed ones${lines === null ? ' (skipped: open data not here)' : ''}`,
  () => {
    /** Stretches of a right hand's line that rise or fall under one hand: the next finger each time, five of them. */
    const stretches = (lines ?? [])
      .filter(({ side }) => side === 'right')
      .flatMap(({ keys, fingers }) =>
        keys.flatMap((_, at) => {
          const five = keys.slice(at, at + 5);
          const printed = fingers.slice(at, at + 5);
          const ways = five.slice(1).map((key, index) => Math.sign(key - (five[index] as number)));
          // a turn of the thumb is where a rising line goes on with a lower finger: there the hand is in another position
          const turns = printed
            .slice(1)
            .some((finger, index) => Math.sign(finger - (printed[index] as number)) !== ways[index]);
          return five.length < 5 || new Set(ways).size > 1 || turns ? [] : [{ keys: five, printed }];
        }),
      );

    test('five neighbouring notes under one hand take the fingers a position gives them', () => {
      const counted = { stretches: 0, agreed: 0 };
      for (const { keys, printed } of stretches) {
        const up = keys[0]! < keys[4]! ? keys : keys.toReversed();
        const book = keys[0]! < keys[4]! ? printed : printed.toReversed();
        const steps = up.map((key) => key - up[0]!);
        const shape = ALL_SHAPES.find((each) => each.steps.every((step, index) => step === steps[index]));
        if (shape === undefined) continue;
        counted.stretches++;
        const ours: Finger[] = [1, 2, 3, 4, 5];
        if (book.every((finger, index) => finger === ours[index])) counted.agreed++;
      }
      expect(counted.stretches).toBeGreaterThanOrEqual(20);
      expect(counted.agreed).toBe(counted.stretches);
    });
  },
);
