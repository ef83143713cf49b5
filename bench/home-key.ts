/**
 * Home keys of three open collections, the costs of a home tuned on two of them and measured on the third.
 * Run from the repository's root: npx tsx bench/home-key.ts. No ratio: tunes whose home key is the labelled one.
 *
 * The costs of a home are added to the cost of its best reading, and each enters once: with the least costs of all homes known,
 * every setting tried is a sum. Merit: tunes right, then how clearly, no tune counting for more than twenty.
 */
import { keyIndexOf, unfold, type Chart, type Key } from '@fivespan/core';
import { corpusSequences } from '../checks/jazz-corpus.ts';
import { DOUBTFUL_LABELS, jaahTunes } from '../checks/jaah.ts';
import { weimarTunes } from '../checks/weimar-tunes.ts';
import { eventsOf } from '../packages/core/src/analysis/harmony/event.ts';
import { endOfForm } from '../packages/core/src/analysis/harmony/form-end.ts';
import { costTablesOf, groundOf } from '../packages/core/src/analysis/harmony/ground.ts';
import { homeCost } from '../packages/core/src/analysis/harmony/home-key.ts';
import { HOME_COUNT, KEY_COSTS, type KeyCosts } from '../packages/core/src/analysis/harmony/key-costs.ts';
import { leastCost } from '../packages/core/src/analysis/harmony/search.ts';

interface Tune {
  readonly name: string;
  readonly key: Key;
  readonly chart: Chart;
}

/** The costs that were tuned, each with the values tried; the first setting of all is the one in use. */
const TRIED = {
  startNotTonic: [20, 24, 28, 32],
  finalGoal: [0, 8, 16, 24, 32],
  endOnOtherMode: [16, 24, 32, 44],
  endAtOtherRest: [28, 44, 60],
  tonicMissing: [12, 24],
} as const satisfies Partial<Record<keyof KeyCosts, readonly number[]>>;

const SETTINGS = Object.entries(TRIED).reduce<KeyCosts[]>(
  (all, [name, values]) => all.flatMap((costs) => values.map((value) => ({ ...costs, [name]: value }))),
  [KEY_COSTS],
);
const ALL: readonly KeyCosts[] = [KEY_COSTS, ...SETTINGS];

type TunedCost = keyof typeof TRIED;
const TUNED = Object.keys(TRIED) as TunedCost[];

/** The costs in use without those that are tuned, and each of these alone as 1: a home's cost is a sum of them. */
const NONE = Object.fromEntries(Object.keys(KEY_COSTS).map((name) => [name, 0])) as unknown as KeyCosts;
const UNTUNED: KeyCosts = { ...KEY_COSTS, ...Object.fromEntries(TUNED.map((name) => [name, 0])) };

/** By setting: by how much the labelled key beats the best other; a tie is lost. */
function marginsOf({ key, chart }: Tune): number[] {
  const form = unfold(chart);
  const ground = groundOf(eventsOf(form), () => -1, KEY_COSTS, endOfForm(form));
  const tables = costTablesOf(ground);
  const homes = Array.from({ length: HOME_COUNT }, (_, home) => {
    const untuned = leastCost(ground, tables, home) + homeCost({ ...ground, costs: UNTUNED }, home);
    const times = TUNED.map((name) => homeCost({ ...ground, costs: { ...NONE, [name]: 1 } }, home));
    return { untuned, times, isLabelled: home % 24 === keyIndexOf(key) };
  });
  return ALL.map((costs) => {
    let [ours, others] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const { untuned, times, isLabelled } of homes) {
      const total = times.reduce((sum, each, index) => sum + each * costs[TUNED[index] as TunedCost], untuned);
      if (isLabelled) ours = Math.min(ours, total);
      else others = Math.min(others, total);
    }
    return others - ours;
  });
}

const COLLECTIONS: readonly (readonly [name: string, tunes: readonly Tune[]])[] = [
  ['recorded choruses', jaahTunes ?? []],
  ['… without doubtful labels', (jaahTunes ?? []).filter(({ name }) => !DOUBTFUL_LABELS.has(name))],
  ['analysed sequences', corpusSequences ?? []],
  ['Weimar grids', weimarTunes.map(({ title, stated, chart }) => ({ name: title, key: stated, chart }))],
];
const margins = new Map(COLLECTIONS.map(([name, tunes]) => [name, tunes.map(marginsOf)]));

const right = (name: string, setting: number): number =>
  (margins.get(name) ?? []).filter((row) => (row[setting] as number) > 0).length;

function merit(names: readonly string[], setting: number): number {
  const rows = names.flatMap((name) => margins.get(name) ?? []);
  return rows.reduce((sum, row) => {
    const margin = row[setting] as number;
    return sum + (margin > 0 ? 10_000 : 0) + Math.max(-20, Math.min(20, margin));
  }, 0);
}

/** The setting with the most merit on some collections; of equals the first. */
function bestOn(names: readonly string[]): number {
  const merits = ALL.map((_, setting) => merit(names, setting));
  return merits.indexOf(Math.max(...merits));
}

const told = (setting: number): string => TUNED.map((name) => `${name} ${(ALL[setting] as KeyCosts)[name]}`).join(', ');

const TUNED_ON = ['recorded choruses', 'analysed sequences', 'Weimar grids'];
console.log(`${SETTINGS.length} settings of ${TUNED.join(', ')}`);
for (const [name, tunes] of COLLECTIONS) {
  const own = name.startsWith('…') ? 'recorded choruses' : name;
  const setting = bestOn(TUNED_ON.filter((each) => each !== own));
  const over = SETTINGS.map((_, index) => right(name, index + 1));
  const share = ((100 * right(name, setting)) / tunes.length).toFixed(1);
  console.log(
    `${name}: ${tunes.length} tunes, ${right(name, 0)} in use, ${right(name, setting)} (${share} %) tuned on the other two (${told(setting)}), ${Math.min(...over)} to ${Math.max(...over)} over all settings`,
  );
}
