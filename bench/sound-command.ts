/**
 * The whole `sound` command against Debian's fluidsynth, which renders alone: what one more second of the demo trio
 * costs in processor time (user and system, all threads), as the slope between 3 and 12 choruses, least of two runs;
 * and the most memory held. Limits: half of fluidsynth's second, 300 MB. Run: npx tsx bench/sound-command.ts
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bankFiles } from '../checks/sound-bank.ts';

const CHORUSES = [3, 12] as const;
const RUNS = 2;
const root = join(import.meta.dirname, '..');
const folder = mkdtempSync(join(tmpdir(), 'fivespan-bench-'));

/** Processor seconds of a command and what it started. */
function cpuSeconds(...command: string[]): number {
  const { status, stderr } = spawnSync(
    'bash',
    ['-c', `TIMEFORMAT='%U %S'; time "$@" >/dev/null 2>"$0"`, join(folder, 'said'), ...command],
    { cwd: root, encoding: 'utf8', env: { ...process.env, LC_ALL: 'C' } },
  );
  const times = stderr.trim().split(/\s+/u).map(Number);
  if (status !== 0 || times.length !== 2 || times.some(Number.isNaN))
    throw new Error(`${command.join(' ')}: ${readFileSync(join(folder, 'said'), 'utf8')}${stderr}`);
  return times.reduce((sum, each) => sum + each, 0);
}

const memoryFile = join(folder, 'memory');
const memoryHook = join(folder, 'memory.cjs');
writeFileSync(
  memoryHook,
  `process.on('exit', () => require('fs').writeFileSync(${JSON.stringify(memoryFile)}, String(process.resourceUsage().maxRSS)));\n`,
);
const PROGRAM = `--require ${memoryHook} apps/cli/bin/fivespan.mjs`.split(' ');
const sound = (choruses: number, out: string): string[] => [
  process.execPath,
  ...PROGRAM,
  ...`sound examples/DEMO.chart --choruses ${choruses} --with all --out ${out}`.split(' '),
];
const FLUIDSYNTH = 'fluidsynth -ni -q -R 0 -C 0 -r 44100 -T raw -O float -F /dev/null'.split(' ');
const least = (work: () => number): number => Math.min(...Array.from({ length: RUNS }, work));

try {
  const { web } = await bankFiles();
  const midis = CHORUSES.map((choruses) => join(folder, `${choruses}.mid`));
  for (const [index, choruses] of CHORUSES.entries()) cpuSeconds(...sound(choruses, midis[index] as string));
  const wav = join(folder, 'demo.wav');
  const seconds: number[] = [];
  let megabytes = 0;
  const ours = CHORUSES.map((choruses) =>
    least(() => {
      const spent = cpuSeconds(...sound(choruses, wav));
      megabytes = Number(readFileSync(memoryFile, 'utf8')) / 1024;
      // 44 bytes before the samples and the titles after them are a thousandth of a second
      seconds[CHORUSES.indexOf(choruses)] = readFileSync(wav).length / 4 / 44_100;
      return spent;
    }),
  );
  const theirs = midis.map((midi) => least(() => cpuSeconds(...FLUIDSYNTH, web, midi)));
  const more = (seconds[1] as number) - (seconds[0] as number);
  const slope = ([short = 0, long = 0]: readonly number[]): number => ((long - short) / more) * 1000;
  console.log(`One more second of trio (${more.toFixed(0)} s more):`);
  console.log(`  fluidsynth            ${slope(theirs).toFixed(2)} ms`);
  console.log(
    `  fivespan sound, WAV   ${slope(ours).toFixed(2)} ms, ${(slope(ours) / slope(theirs)).toFixed(2)} of it`,
  );
  console.log(`  most memory held, ${CHORUSES[1]} choruses: ${megabytes.toFixed(0)} MB`);
} finally {
  rmSync(folder, { recursive: true });
}
