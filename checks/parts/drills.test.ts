/**
 * Drills against what stands outside them.
 *
 * Spelling: the judge of checks/theory/spelling-judge.ts, written from docs/spelling.md (common practice, as this house settled it).
 *
 * Fingers: Oscar Beringer and Thomas Dunhill 1900, transcribed by David A. Randolph 2016 (dvdrndlph/pydactyl, MIT), as in
 * ../shared/data/fingering. Where a printed line lies under one hand for five different notes or more in a row, the shape of that
 * stretch is a position; a drill puts finger n on its nth note, and so does the book. Three or four neighbours of a scale under one hand
 * are part of one.
 */
import { readFileSync } from 'node:fs';
import {
  ALL_SHAPES,
  DEFAULT_CHOICES,
  DRILL_KINDS,
  keysRound,
  makeDrill,
  parseKey,
  randomSource,
  readChart,
  type Chart,
  type Finger,
  type HandSide,
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

describe('charts drawn by chance are spelled so too', () => {
  const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
  // the diminished ones often: their names lean on key and thumb
  const KINDS = ['m7', '7', 'maj7', 'm7b5', '7alt', 'm6', 'dim7', 'dim7', '7(b9)', '7sus', '6'];
  const HOMES = ['C major', 'F minor', 'D major', 'Bb minor', 'E major', 'Ab major'];

  test.each(DRILL_KINDS)('%s', (kind) => {
    const faults = new Set<string>();
    let judged = 0;
    for (const seed of [1, 2]) {
      const random = randomSource(seed, `spelled ${kind}`);
      const of = (list: readonly string[]): string => list[random.integer(list.length)] as string;
      const bars = Array.from({ length: 4 }, () => of(ROOTS) + of(KINDS));
      const read = readChart(`key: ${of(HOMES)}\n| ${bars.join(' | ')} |\n`);
      if (!read.ok) throw new Error(`${bars.join(' ')} must be a chart`);
      const keys = [parseKey(of(HOMES)) as Key];
      const level = (1 + random.integer(4)) as 1 | 2 | 3 | 4;
      const made = makeDrill(read.value, { ...DEFAULT_CHOICES, level }, { kind, bars: null, keys, tempi: null });
      if (!made.ok) continue;
      for (const { lesson } of made.value.keys) {
        const census = judgeSpelling(lesson);
        judged += Object.values(census.judged).reduce((sum, each) => sum + each, 0);
        for (const each of census.faults) faults.add(`${bars.join(' | ')}: ${wordsOfFault(each)}`);
      }
    }
    expect([...faults]).toEqual([]);
    expect(judged).toBeGreaterThan(40);
  });
});

const lines = allPrintedLines();

describe.skipIf(lines === null)(
  `fingers beside the printed ones${lines === null ? ' (skipped: open data not here)' : ''}`,
  () => {
    /** Stretches of a line that rise or fall under one hand: no turn of the thumb in them. From the lowest note up. */
    const stretchesOf = (side: HandSide, count: number, files: RegExp) =>
      (lines ?? [])
        .filter((line) => line.side === side && files.test(line.file))
        .flatMap(({ keys, fingers }) =>
          keys.flatMap((_, at) => {
            const notes = keys.slice(at, at + count);
            const printed = fingers.slice(at, at + count);
            const ways = notes.slice(1).map((key, index) => Math.sign(key - (notes[index] as number)));
            // a turn of the thumb is where a rising line goes on with a lower finger (the left hand's, a higher one)
            const onward = side === 'right' ? 1 : -1;
            const turns = printed
              .slice(1)
              .some((finger, index) => Math.sign(finger - (printed[index] as number)) !== onward * (ways[index] ?? 0));
            if (notes.length < count || new Set(ways).size > 1 || turns) return [];
            return [ways[0] === 1 ? { notes, printed } : { notes: notes.toReversed(), printed: printed.toReversed() }];
          }),
        );

    test('five neighbouring notes under one hand take the fingers a position gives them', () => {
      const ours: Finger[] = [1, 2, 3, 4, 5];
      const found = stretchesOf('right', 5, /./u).filter(({ notes }) => {
        const steps = notes.map((key) => key - (notes[0] as number));
        return ALL_SHAPES.some((each) => each.steps.every((step, index) => step === steps[index]));
      });
      expect(found).toHaveLength(20);
      expect(found.filter(({ printed }) => printed.join('') !== ours.join(''))).toEqual([]);
    });

    // three or four of a scale under one hand are a part of a position: the next note has the next finger, whichever begins. Arpeggios
    // and broken chords do not overlap with any drill of ours: the stack in thirds takes its chord out of two positions.
    test.each([
      ['right', 3, 232],
      ['right', 4, 88],
      ['left', 3, 228],
      ['left', 4, 86],
      ['left', 5, 16],
    ] as const)('%s hand, %i neighbours of a scale: the next finger each time', (side, count, stretches) => {
      const found = stretchesOf(side, count, /^scales/u);
      expect(found).toHaveLength(stretches);
      const onward = side === 'right' ? 1 : -1;
      const isNext = (fingers: readonly Finger[]): boolean =>
        fingers.slice(1).every((finger, index) => finger === (fingers[index] as number) + onward);
      expect(found.filter(({ printed }) => !isNext(printed))).toEqual([]);
    });
  },
);
