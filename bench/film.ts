/**
 * Films of the demo as the command makes them, at full size: seconds of film a second of work (the browser's start, composing, sound and
 * mixing among them), and the memory of all processes together at most (proportional set size), all of it and by tenths of
 * its time. `npx tsx bench/film.ts [minutes [only]]`: with minutes, also one film as long as that, of scenes played again and again;
 * with `only` no other.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, ENGINE_VERSION, sceneOf, writeLessonDocument } from '@fivespan/core';

const root = join(import.meta.dirname, '..');
const fivespan = join(root, 'apps/cli/bin/fivespan.mjs');
const demo = join(root, 'examples/DEMO.chart');
const folder = mkdtempSync(join(tmpdir(), 'fivespan-bench-film-'));

/** A process and all it started. */
function familyOf(pid: number): number[] {
  const parents = new Map<number, number>();
  for (const name of readdirSync('/proc').filter((each) => /^\d+$/u.test(each))) {
    try {
      const stat = readFileSync(`/proc/${name}/stat`, 'utf8');
      parents.set(Number(name), Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1]));
    } catch {
      // it has ended meanwhile
    }
  }
  const found = [pid];
  for (let at = 0; at < found.length; at++) {
    for (const [child, parent] of parents) if (parent === found[at]) found.push(child);
  }
  return found;
}

/** Processor seconds of a process and all it started so far, those that have ended among them. Source: proc(5): ticks of 10 ms. */
function cpuSecondsOf(pid: number): number {
  return familyOf(pid).reduce((sum, each) => {
    try {
      const stat = readFileSync(`/proc/${each}/stat`, 'utf8');
      const [user = '0', system = '0'] = stat
        .slice(stat.lastIndexOf(')') + 2)
        .split(' ')
        .slice(11, 13);
      return sum + (Number(user) + Number(system)) / 100;
    } catch {
      return sum;
    }
  }, 0);
}

function megabytesOf(pid: number): number {
  return familyOf(pid).reduce((sum, each) => {
    try {
      const [, kilobytes = '0'] = /^Pss:\s+(\d+)/mu.exec(readFileSync(`/proc/${each}/smaps_rollup`, 'utf8')) ?? [];
      return sum + Number(kilobytes) / 1000;
    } catch {
      return sum;
    }
  }, 0);
}

async function film(what: string, input: string, name: string, ...more: string[]): Promise<void> {
  const child = spawn(process.execPath, [fivespan, 'film', input, '-o', join(folder, name), '--json', ...more], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const memory: number[] = [];
  const started = performance.now();
  let cpuSeconds = 0;
  const timer = setInterval(() => {
    memory.push(megabytesOf(child.pid ?? 0));
    cpuSeconds = Math.max(cpuSeconds, cpuSecondsOf(child.pid ?? 0));
  }, 500);
  let told = '';
  child.stdout.on('data', (part: Buffer) => (told += part.toString()));
  const code = await new Promise((resolve) => child.once('close', resolve));
  clearInterval(timer);
  if (code !== 0) throw new Error(`the command ended with ${String(code)}`);
  const { seconds, tookSeconds, speed, pictures, frames } = JSON.parse(told) as Record<string, number>;
  const part = Math.ceil(memory.length / 10);
  const parts = Array.from({ length: 10 }, (_, index) => memory.slice(index * part, (index + 1) * part))
    .filter(({ length }) => length > 0)
    .map((each) => Math.max(...each).toFixed(0));
  const took = ((performance.now() - started) / 1000).toFixed(0);
  console.log(
    `${what}: ${seconds?.toFixed(1)} s of film, ${frames} frames, ${pictures} pictures, in ${tookSeconds} s: ` +
      `${speed} × real time (${cpuSeconds.toFixed(0)} s of processor); ${Math.max(...memory).toFixed(0)} MB at most; by tenths of its ${took} s: ${parts.join(' ')}`,
  );
}

try {
  // builds what has to be built
  await film('warm-up (360 lines)', demo, 'warm.mp4', '--height', '360', '--no-titles', '--bars', '1');
  if (process.argv[3] !== 'only') {
    await film('H.264 and AAC, 1080p30, all scenes', demo, 'all.mp4');
    await film('H.264 and AAC, 1080p30, what is played', demo, 'play.mp4', '--no-titles');
    await film('VP9 with alpha and Opus, 1080p30, what is played', demo, 'clear.webm', '--no-titles', '--transparent');
  }
  const minutes = Number(process.argv[2] ?? 0);
  if (minutes > 0) {
    const lesson = join(folder, 'long.json');
    const count = Math.ceil((minutes * 60) / 33);
    const choices = { ...DEFAULT_CHOICES, film: Array.from({ length: count }, () => sceneOf('play')) };
    writeFileSync(
      lesson,
      writeLessonDocument({ chartText: readFileSync(demo, 'utf8'), choices, engine: ENGINE_VERSION }),
    );
    await film(`${minutes} minutes`, lesson, 'long.mp4');
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
