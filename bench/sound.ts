/**
 * What a second of trio costs, against Debian's fluidsynth in the same run: effects off in both, the same web bank, the same
 * notes, 44.1 kHz. The trio plays the demo tune; an invented load (checks/trio-schedule.ts) is measured beside it.
 * Run: npx tsx bench/sound.ts, or with the names of some parts: demo keys invented thread workers
 * The cost of one more second is the slope between a short and a long piece, in processor time (user and system);
 * starting and loading, which the slope leaves out, are reported apart. Needs Debian's fluidsynth and bash.
 */
import { spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { instrumentOf, type Bank } from '@fivespan/sound/bank';
import {
  BLOCK_FRAMES,
  NoteStore,
  planOf,
  prepare,
  renderPart,
  renderTo,
  SoundEngine,
  Synthesizer,
  type Schedule,
} from '@fivespan/sound/engine';
import { bankFiles, testBank } from '../checks/sound-bank.ts';
import { scheduleMidi } from '../checks/schedule-midi.ts';
import { trioSchedule } from '../checks/trio-schedule.ts';
import { demoTrio } from './demo-trio.ts';

const SAMPLE_RATE = 44_100;
/** Runs of each; the least is taken: other work on the machine only ever adds. */
const RUNS = 3;

const cpuSeconds = (work: () => void): number => {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
};

function fluidsynthSeconds(bank: string, midi: string): number {
  const { status, stderr } = spawnSync(
    'bash',
    [
      '-c',
      `TIMEFORMAT='%U %S'; time fluidsynth -ni -q -R 0 -C 0 -r ${SAMPLE_RATE} -T raw -O float -F /dev/null "$1" "$2" >/dev/null 2>&1`,
      'bash',
      bank,
      midi,
    ],
    { encoding: 'utf8', env: { ...process.env, LC_ALL: 'C' } },
  );
  const times = stderr.trim().split(/\s+/u).map(Number);
  if (status !== 0 || times.length !== 2 || times.some(Number.isNaN))
    throw new Error(`fluidsynth did not run: ${stderr}`);
  return times.reduce((sum, each) => sum + each, 0);
}

/** The engine used plainly: every note a voice of the synthesizer, blocks cut at events. */
function plainly(bank: Bank, schedule: Schedule): void {
  const synthesizer = new Synthesizer(bank, SAMPLE_RATE);
  const left = new Float32Array(BLOCK_FRAMES);
  const right = new Float32Array(BLOCK_FRAMES);
  const commands = schedule.events.flatMap((event) => [
    { frame: Math.round(event.startSeconds * SAMPLE_RATE), isOn: true, event },
    { frame: Math.round((event.startSeconds + event.durationSeconds) * SAMPLE_RATE), isOn: false, event },
  ]);
  commands.sort((a, b) => a.frame - b.frame || Number(a.isOn) - Number(b.isOn));
  const end = Math.round(schedule.endSeconds * SAMPLE_RATE);
  let next = 0;
  for (let frame = 0; frame < end;) {
    for (; (commands[next]?.frame ?? Infinity) <= frame; next++) {
      const { event, isOn } = commands[next] as (typeof commands)[number];
      const instrument = instrumentOf(schedule.players[event.player]?.instrument ?? 'grand');
      const channel = event.player;
      if (isOn) synthesizer.noteOn(instrument, event.midi, event.velocity, channel);
      else synthesizer.noteOff(instrument, event.midi, channel);
    }
    const frames = Math.min(BLOCK_FRAMES, end - frame, (commands[next]?.frame ?? end) - frame);
    left.fill(0);
    right.fill(0);
    synthesizer.process(left, right, 0, frames);
    frame += frames;
  }
}

const least = (work: () => number): number => Math.min(...Array.from({ length: RUNS }, work));

async function compare(bank: Bank, name: string, short: Schedule, long: Schedule): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'fivespan-bench-'));
  const pieces = [short, long].map((schedule, index) => {
    const midi = join(folder, `${index}.mid`);
    writeFileSync(midi, scheduleMidi(schedule));
    return { schedule, midi };
  }) as [Piece, Piece];
  const { web } = await bankFiles();
  const more = pieces[1].schedule.endSeconds - pieces[0].schedule.endSeconds;
  const slope = (cost: (piece: Piece) => number): { perSecond: number; fixed: number } => {
    const ofShort = least(() => cost(pieces[0]));
    const ofLong = least(() => cost(pieces[1]));
    const perSecond = (ofLong - ofShort) / more;
    return { perSecond, fixed: ofShort - perSecond * pieces[0].schedule.endSeconds };
  };
  cpuSeconds(() => void renderTo(new NoteStore(bank, SAMPLE_RATE), pieces[0].schedule, () => {})); // compiled before it counts
  let counters = '';
  const ours = slope(({ schedule }) => {
    const store = new NoteStore(bank, SAMPLE_RATE);
    const seconds = cpuSeconds(() => void renderTo(store, schedule, () => {}));
    const { renderedNotes, renderedSeconds, keptBytes } = store.counters;
    counters = `${schedule.events.length} notes from ${renderedNotes} rendered ones (${renderedSeconds.toFixed(0)} s of sound, ${(keptBytes / 1e6).toFixed(0)} MB)`;
    return seconds;
  });
  const fluid = slope(({ midi }) => fluidsynthSeconds(web, midi));
  const plain = slope(({ schedule }) => cpuSeconds(() => plainly(bank, schedule)));
  rmSync(folder, { recursive: true });
  const line = (what: string, { perSecond, fixed }: { perSecond: number; fixed: number }): string =>
    `${what.padEnd(34)} ${(perSecond * 1000).toFixed(2).padStart(6)} ms   ${(perSecond / fluid.perSecond).toFixed(2).padStart(5)}   ${fixed.toFixed(2).padStart(5)} s`;
  console.log(`\n${name}: one more second of trio (${more.toFixed(0)} s more, ${counters})`);
  console.log('                                      cost   of fluidsynth   start and loading');
  console.log(line('fluidsynth (Debian)', fluid));
  console.log(line('the synthesizer used plainly', plain));
  console.log(line('Fivespan: notes rendered once', ours));
}

interface Piece {
  readonly schedule: Schedule;
  readonly midi: string;
}

/** The audio thread's load: blocks of 128 frames at 48 kHz. */
function realTime(bank: Bank): void {
  const rate = 48_000;
  const store = new NoteStore(bank, rate);
  const schedule = demoTrio(1, 4);
  const prepared = prepare(store, planOf(store, schedule));
  if (prepared === undefined) return;
  const left = new Float32Array(BLOCK_FRAMES);
  const right = new Float32Array(BLOCK_FRAMES);
  const deadline = (BLOCK_FRAMES / rate) * 1000;
  // Whatever else runs on the machine interrupts some blocks: of several plays, each block's shortest time is its own cost.
  let times: number[] = [];
  for (let play = 0; play < 1 + RUNS; play++) {
    const engine = new SoundEngine(rate);
    engine.load(prepared);
    engine.play();
    const now: number[] = [];
    while (engine.positionSeconds < schedule.endSeconds) {
      const start = performance.now();
      engine.process(left, right);
      now.push(performance.now() - start);
    }
    // the first play compiles
    if (play > 0) times = now.map((time, block) => Math.min(time, times[block] ?? Infinity));
  }
  times.sort((a, b) => a - b);
  const share = (ms: number): string => `${((100 * ms) / deadline).toFixed(2)} %`;
  const mean = times.reduce((sum, each) => sum + each, 0) / times.length;
  console.log(
    `\nReal time: share of the ${deadline.toFixed(2)} ms that 128 frames at 48 kHz last, ${times.length} blocks`,
  );
  console.log(
    `  mean ${share(mean)}, 999 of 1000 under ${share(times[Math.floor(times.length * 0.999)] ?? 0)}, worst ${share(times.at(-1) ?? 0)}`,
  );
}

/** Node 20 starts a worker on plain JavaScript only: this loads the loader of TypeScript, then this file. */
const WORKER = `require('tsx/cjs/api').register(); import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(import.meta.url)}); });`;

/** Two workers, half of the piece each, against one: from the moment that all have opened the bank. */
async function sideBySide(): Promise<void> {
  const frames = Math.round(demoTrio(12, 3).endSeconds * SAMPLE_RATE);
  const wall = async (parts: readonly (readonly [number, number])[]): Promise<number> => {
    const workers = parts.map(([from, to]) => new Worker(WORKER, { eval: true, workerData: { from, to } }));
    const reports = (): Promise<unknown> => Promise.all(workers.map((worker) => once(worker, 'message')));
    await reports();
    const start = performance.now();
    const done = reports();
    for (const worker of workers) worker.postMessage('go');
    await done;
    const time = performance.now() - start;
    await Promise.all(workers.map((worker) => worker.terminate()));
    return time;
  };
  const half = Math.floor(frames / 2);
  const runs: number[] = [];
  for (let run = 0; run < RUNS; run++) {
    const one = await wall([[0, frames]]);
    const two = await wall([
      [0, half],
      [half, frames],
    ]);
    runs.push(two / one);
  }
  const [least = 0] = runs.sort((a, b) => a - b);
  console.log(
    `\nSide by side: twelve keys of three choruses by two workers in ${least.toFixed(2)} of one worker's time (least of ${RUNS} runs)`,
  );
}

if (isMainThread) {
  const bank = await testBank();
  const parts: Readonly<Record<string, () => void | Promise<void>>> = {
    demo: () => compare(bank, 'The demo, 1 and 12 choruses', demoTrio(1, 1), demoTrio(1, 12)),
    keys: () => compare(bank, 'The demo, 1 chorus and 3 in each of twelve keys', demoTrio(1, 1), demoTrio(12, 3)),
    invented: () => compare(bank, 'The invented load, 1 and 12 choruses', trioSchedule(1), trioSchedule(12)),
    thread: () => realTime(bank),
    workers: sideBySide,
  };
  const asked = process.argv.slice(2);
  for (const name of asked.length === 0 ? Object.keys(parts) : asked) {
    const part = parts[name];
    if (part === undefined) throw new Error(`there is no part ${name}: ${Object.keys(parts).join(', ')}`);
    await part();
  }
} else {
  const { from, to } = workerData as { from: number; to: number };
  const bank = await testBank();
  parentPort?.postMessage('ready');
  parentPort?.once('message', () => {
    renderPart(new NoteStore(bank, SAMPLE_RATE), demoTrio(12, 3), from, to);
    parentPort?.postMessage('done');
  });
}
