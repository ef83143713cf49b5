/**
 * How often the best fingering is the printed one, per model and hand, and how the search grows.
 * Run: npx tsx bench/fingering.ts
 * Printed fingerings: Beringer and Dunhill 1900 (../shared/data/fingering, or FIVESPAN_OPEN_DATA). Figures of time are
 * ratios within one run.
 */
import { performance } from 'node:perf_hooks';
import {
  bestFingerings,
  FINGERING_MODEL_IDS,
  fingeringModel,
  FINGERS,
  midi,
  randomSource,
  rateFingering,
  type Finger,
  type FingeringModel,
  type HandSide,
  type Strike,
} from '@fivespan/core';
import { agreementWith, allPrintedLines } from '../checks/hand/beringer.ts';

const percent = (part: number, whole: number): string => `${((100 * part) / whole).toFixed(1)} %`.padStart(7);

function reportAgreement(): void {
  const lines = allPrintedLines();
  if (lines === null) {
    console.log('skipped: open data not here');
    return;
  }
  console.log(`Printed fingerings, 1900: ${lines.length} lines; the best fingering is the printed one`);
  console.log('model      hand    notes    lines    lines, or the alternative the book prints');
  for (const id of FINGERING_MODEL_IDS) {
    for (const side of ['right', 'left'] as const) {
      const { notes, equalNotes, lineCount, equalLines, equalToEither } = agreementWith(
        lines,
        fingeringModel(id),
        side,
      );
      console.log(
        `${id.padEnd(10)} ${side.padEnd(6)} ${percent(equalNotes, notes)}  ${percent(equalLines, lineCount)}  ${percent(equalToEither, lineCount)}   (${equalNotes} of ${notes} notes, ${equalLines} of ${lineCount} lines)`,
      );
    }
  }
}

/** A line as a soloist plays it: mostly steps, some leaps, two octaves and a half. */
function longLine(noteCount: number): Strike[] {
  const source = randomSource(7, 'bench fingering');
  let key = 67;
  return Array.from({ length: noteCount }, () => {
    const step = (source.weighted([30, 28, 18, 10, 7, 3, 4]) + 1) * (source.integer(2) === 0 ? -1 : 1);
    key = key + step > 84 || key + step < 55 ? key - step : key + step;
    return [midi(key)];
  });
}

/** Median milliseconds of five runs. */
function millisecondsOf(work: () => void): number {
  const times = Array.from({ length: 5 }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[2] ?? 0;
}

/** Rates every fingering of a melody, one by one: the peer the search is measured against. */
function rateAll(line: readonly Strike[], side: HandSide, model: FingeringModel): void {
  let ways: Finger[][] = [[]];
  for (let index = 0; index < line.length; index++) ways = ways.flatMap((way) => FINGERS.map((each) => [...way, each]));
  for (const way of ways)
    rateFingering(
      line,
      way.map((each) => [each]),
      { side, model },
    );
}

function reportSpeed(): void {
  const model = fingeringModel('parncutt');
  const search = (line: readonly Strike[], count = 1): number =>
    millisecondsOf(() => void bestFingerings(line, { side: 'right', model, count }));
  const long = longLine(10_000);
  search(long.slice(0, 2000));
  const sizes = [1250, 2500, 5000, 10_000];
  const times = sizes.map((size) => search(long.slice(0, size)));
  const whole = times.at(-1) ?? 0;
  console.log(`\nSearch: 10,000 notes in ${whole.toFixed(0)} ms on this machine`);
  for (const [index, size] of sizes.entries()) {
    if (index > 0)
      console.log(
        `  ${sizes[index - 1]} → ${size} notes: ${((times[index] ?? 0) / (times[index - 1] ?? 1)).toFixed(2)} × the time (2.00 is linear)`,
      );
  }
  console.log(
    `  ten best instead of one: ${(search(long.slice(0, 2500), 10) / (times[1] ?? 1)).toFixed(2)} × the time`,
  );
  const six = long.slice(0, 6);
  const exhaustive = millisecondsOf(() => rateAll(six, 'right', model));
  console.log(`  six notes, against rating all 15,625 fingerings: ${(exhaustive / search(six)).toFixed(0)} × faster`);
}

reportAgreement();
reportSpeed();
