/**
 * What is never broken, over charts drawn from a seed: `npx tsx bench/laws.ts [COUNT] [--seed N] [--first N]`.
 * Each chart (checks/hostile/valid-chart.ts) is composed at a level, in a feel, range, kind of voicings and seed of its own, and every part's rules are
 * asked, its later choruses' lines too; every tenth is made twice, to the same bytes. What breaks is printed with the number that makes it
 * again. `npm test` holds the same rules over some forty charts a part (chorus.test.ts, walking-bass.test.ts, voicings.test.ts).
 */
import { parseArgs } from 'node:util';
import {
  BASS_FEELS,
  CHORUS_LEVELS,
  chorusFaults,
  DEFAULT_CHOICES,
  improviseChorus,
  makeLesson,
  partFaults,
  randomSource,
  readChart,
  VOICING_KINDS,
  wordsOfChorusFault,
  type Choices,
} from '@fivespan/core';
import { chanceOf } from '../checks/hostile/chance.ts';
import { anyChart } from '../checks/hostile/valid-chart.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { seed: { type: 'string', default: '1' }, first: { type: 'string', default: '0' } },
});
const count = Number(positionals[0] ?? 2000);
const seed = Number(values.seed);
const RANGES = ['left hand', 'double bass'] as const;
const CHORUSES = 3;

const byRule = new Map<string, string[]>();
let [charts, refused, bars, notes] = [0, 0, 0, 0];
for (let number = Number(values.first); charts < count; number++) {
  const chance = chanceOf('laws', seed, number);
  const text = anyChart(chance);
  const read = readChart(text);
  if (!read.ok) {
    refused++;
    continue;
  }
  const choices: Choices = {
    ...DEFAULT_CHOICES,
    seed: number,
    level: chance.of(CHORUS_LEVELS),
    bass: { feel: chance.of(BASS_FEELS), range: chance.of(RANGES) },
    voicings: chance.of(VOICING_KINDS),
  };
  const say = (what: string): void => {
    const rule = what.replaceAll(/\d+/gu, '…').replaceAll(/[A-G][#b]*[^\s:]*/gu, '…');
    byRule.set(rule, [...(byRule.get(rule) ?? []), `${number}: ${what}`]);
  };
  try {
    const lesson = makeLesson(read.value, choices);
    charts++;
    bars += lesson.analysis.form.bars.length;
    notes += lesson.chorus.length + lesson.bass.length + lesson.voicings.length;
    for (const [part, faults] of Object.entries(partFaults(lesson, lesson))) {
      for (const fault of faults) say(`${part}: ${fault}`);
    }
    for (let chorus = 1; chorus <= CHORUSES; chorus++) {
      const random = randomSource(number, `chorus ${chorus + 1}`);
      const line = improviseChorus(lesson.plan, { level: choices.level, random, chorus });
      for (const fault of chorusFaults(lesson.plan, line)) say(`later chorus: ${wordsOfChorusFault(fault)}`);
    }
    const isAgain = number % 10 !== 0 || JSON.stringify(makeLesson(read.value, choices)) === JSON.stringify(lesson);
    if (!isAgain) say('the same chart, choices and seed gave other bytes');
  } catch (error) {
    say(`threw ${String(error)}`);
  }
}
const { user, system } = process.cpuUsage();
console.log(
  `${charts} charts of seed ${seed} (${refused} drawn ones are refused by the reader), ${bars} bars, ${notes} notes: ` +
    `${[...byRule.values()].flat().length} breaks, ${((user + system) / 1e6).toFixed(0)} s of processor time`,
);
for (const [rule, each] of byRule) console.log(`  ${each.length} × ${rule}\n    ${each.slice(0, 3).join('\n    ')}`);
process.exitCode = byRule.size === 0 ? 0 : 1;
