/**
 * What the judge finds in synthetic students' takes (checks/take/students.ts): for each fault how often it is found, and how often
 * clean takes raise it. `npx tsx bench/take-students.ts 400 1` takes 400 seeds from 1 on.
 */
import { judgeTake } from '@fivespan/core';
import { FAULTS } from '../checks/take/student-faults.ts';
import { studentTake } from '../checks/take/students.ts';

const [count = 100, first = 1] = process.argv.slice(2).map(Number);
const loud = process.argv.includes('-v');
const say = (text: string): boolean => process.stdout.write(`${text}\n`);

const alarms = new Map<string, number>();
let clean = 0;
for (let seed = first; seed < first + count; seed++) {
  const take = studentTake(seed, null);
  if (take === null) continue;
  clean++;
  for (const finding of judgeTake(take.lesson, take.notes, take.tempoBpm).findings) {
    alarms.set(finding.code, (alarms.get(finding.code) ?? 0) + 1);
    if (loud) say(`  alarm ${seed} ${take.about}: ${JSON.stringify(finding)}`);
  }
}
for (const fault of FAULTS) {
  let [found, inBar, all] = [0, 0, 0];
  for (let seed = first; seed < first + count; seed++) {
    const take = studentTake(seed, fault);
    if (take === null) continue;
    all++;
    const { findings } = judgeTake(take.lesson, take.notes, take.tempoBpm);
    const own = findings.find(({ code }) => code === fault);
    if (own !== undefined) found++;
    if (own !== undefined && take.bars.some((bar) => own.bars.includes(bar))) inBar++;
    else if (loud) {
      say(
        `  missed ${fault} ${seed} bars ${take.bars.slice(0, 4).join()} ${take.about}: ${JSON.stringify(findings.map(({ code, bars, value }) => `${code} ${bars.slice(0, 5).join()} ${value}`))}`,
      );
    }
  }
  const share = (part: number): string => `${((100 * part) / Math.max(1, all)).toFixed(1)} %`;
  say(
    `${fault}: found ${share(found)}, in its bar ${share(inBar)} of ${all}; on ${clean} clean takes ${alarms.get(fault) ?? 0}`,
  );
}
