/**
 * The census of spelling: how many names each rule of docs/spelling.md judges, and every name that breaks one.
 * Run from the repository's root: npx tsx bench/spelling.ts [seed]. No ratio: nothing is timed.
 *
 * 1. examples/ in fifteen keys at four levels.
 * 2. Every open grid (../shared/data/wjd) in one key drawn from the seed, at level 2.
 * checks/theory/spelling-judge.ts judges.
 */
import { randomSource } from '@fivespan/core';
import { SPELLING_RULES, wordsOfFault, type SpellingCensus } from '../checks/theory/spelling-judge.ts';
import {
  addCensus,
  censusIn,
  emptyCensus,
  EXAMPLE_CHARTS,
  fifteenKeys,
  keyOf,
} from '../checks/theory/spelling-census.ts';
import { chartOfGrid, weimarGrids } from '../checks/weimar-grid.ts';

/** The most faults shown of one kind. */
const MOST_SHOWN = 8;

function print(title: string, { judged, faults }: SpellingCensus): void {
  console.log(title);
  for (const rule of SPELLING_RULES) {
    const of = faults.filter((each) => each.rule === rule);
    console.log(`  ${rule.padEnd(14)} ${String(judged[rule]).padStart(8)} judged, ${of.length} faults`);
    for (const fault of of.slice(0, MOST_SHOWN)) console.log(`      ${wordsOfFault(fault)}`);
  }
}

const seed = Number(process.argv[2] ?? 1);
const examples = emptyCensus();
for (const chart of EXAMPLE_CHARTS) {
  const own = keyOf(chart);
  for (const key of fifteenKeys(own.mode)) addCensus(examples, censusIn(chart, own, key, [1, 2, 3, 4]));
}
print(`${EXAMPLE_CHARTS.length} examples in fifteen keys at four levels`, examples);

if (weimarGrids === null) console.log('open data not here');
else {
  const grids = emptyCensus();
  const random = randomSource(seed, 'spelling keys');
  for (const chart of weimarGrids.map(chartOfGrid)) {
    const own = keyOf(chart);
    const keys = fifteenKeys(own.mode);
    const key = keys[random.integer(keys.length)];
    if (key !== undefined) addCensus(grids, censusIn(chart, own, key, [2]));
  }
  print(`${weimarGrids.length} open grids, each in one key of seed ${seed}, level 2`, grids);
}
