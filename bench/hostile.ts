/**
 * Hostile inputs by hand: `npx tsx bench/hostile.ts [COUNT] [--kind NAME] [--seed N] [--first N] [--minutes N] [--show N]`.
 * Each kind is given COUNT inputs (2,000 by default), or as many as the minutes of processor time allow (on a busy machine the
 * clock says nothing about what hangs); what misbehaves is printed once a cause,
 * with the number that makes it again. `npm test` gives a few of each (checks/hostile/hostile.test.ts).
 */
import { parseArgs } from 'node:util';
import { HOSTILE_KINDS, judgeKind, type Found } from '../checks/hostile/kinds.ts';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    kind: { type: 'string' },
    seed: { type: 'string', default: '1' },
    first: { type: 'string', default: '0' },
    minutes: { type: 'string', default: '60' },
    show: { type: 'string', default: '20' },
  },
});
const count = Number(positionals[0] ?? 2000);
const kinds = HOSTILE_KINDS.filter(({ name }) => values.kind === undefined || name === values.kind);
if (kinds.length === 0) throw new RangeError(`--kind takes ${HOSTILE_KINDS.map(({ name }) => name).join(', ')}`);

/** What makes two finds one: the message without what is quoted, and where it was thrown. */
function causeOf({ error }: Found): string {
  const place = /at .*\/(?:core|formats|web)\/.*:\d+:\d+/u.exec(error.stack ?? '')?.[0] ?? '';
  return `${error.message.split('\n')[0]?.replaceAll(/'[^']*'|\d+/gu, '…')} ${error.name === 'Misbehaviour' ? '' : place}`;
}

const processorMs = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

let faults = 0;
for (const kind of kinds) {
  const start = process.cpuUsage();
  const options = {
    seed: Number(values.seed),
    first: Number(values.first),
    count,
    budgetMs: Number(values.minutes) * 60_000,
  };
  const { judged, found } = judgeKind(kind, options, processorMs);
  const { user, system } = process.cpuUsage(start);
  const seconds = ((user + system) / 1e6).toFixed(1);
  console.log(
    `${kind.name}: ${judged} inputs of seed ${values.seed}, ${found.length} misbehaved, ${seconds} s of processor time`,
  );
  const causes = new Map<string, Found[]>();
  for (const each of found) causes.set(causeOf(each), [...(causes.get(causeOf(each)) ?? []), each]);
  for (const [cause, each] of [...causes].slice(0, Number(values.show))) {
    const [one] = each;
    console.log(`  ${each.length} × ${cause}\n    number ${one?.number}: ${one?.error.message.slice(0, 300)}`);
  }
  faults += found.length;
}
process.exitCode = faults === 0 ? 0 : 1;
