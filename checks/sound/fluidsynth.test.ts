/**
 * Source: Debian's fluidsynth, an independent synthesizer, on our own web bank: what it makes of a schedule written as MIDI begins on
 * the same times as our render. It computes in blocks of 64 frames and MIDI has ticks of 0.52 ms, so its onsets may lie off by a block
 * and half a tick: tolerance 2.5 ms. The onset rule is the same for both.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { InstrumentId } from '@fivespan/sound/bank';
import { NoteStore, renderSchedule, type PlayedEvent, type Schedule } from '@fivespan/sound/engine';
import { beforeAll, describe, expect, test } from 'vitest';
import { bankFiles, testBank } from '../sound-bank.ts';
import { scheduleMidi } from '../schedule-midi.ts';
import { trioSchedule } from '../trio-schedule.ts';

const RATE = 44_100;
const TOLERANCE_SECONDS = 0.0025;
const FLUIDSYNTH = '/usr/bin/fluidsynth';

let store: NoteStore;
let bank = '';

beforeAll(async () => {
  store = new NoteStore(await testBank(), RATE);
  bank = (await bankFiles()).web;
});

/** The left channel of fluidsynth's render: no effects, its own loudness. */
function fluidsynth(schedule: Schedule): Float32Array {
  const folder = mkdtempSync(join(tmpdir(), 'fivespan-fluid-'));
  try {
    const midi = join(folder, 'piece.mid');
    const raw = join(folder, 'piece.raw');
    writeFileSync(midi, scheduleMidi(schedule));
    const run = spawnSync(FLUIDSYNTH, [
      '-ni',
      '-q',
      '-R',
      '0',
      '-C',
      '0',
      '-g',
      '1',
      '-r',
      String(RATE),
      '-T',
      'raw',
      '-O',
      'float',
      '-F',
      raw,
      bank,
      midi,
    ]);
    if (run.status !== 0) throw new Error(`fluidsynth did not run: ${String(run.stderr)}`);
    const bytes = readFileSync(raw);
    const both = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
    return both.filter((_, index) => index % 2 === 0);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/**
 * Where sound begins: the level of 2 ms rises to `ratio` times what it was at most in the 30 ms before, and above a floor relative to the
 * loudest. Refined to the first frame of those 2 ms that passes half the rise.
 */
function onsets(samples: Float32Array, ratio: number): number[] {
  const hop = Math.round(RATE * 0.001);
  const levels: number[] = [];
  for (let at = 0; at + 2 * hop <= samples.length; at += hop) {
    let most = 0;
    for (let index = at; index < at + 2 * hop; index++) most = Math.max(most, Math.abs(samples[index] ?? 0));
    levels.push(most);
  }
  const floor = Math.max(...levels) * 0.02;
  const found: number[] = [];
  for (let each = 0; each < levels.length; each++) {
    const before = Math.max(0, ...levels.slice(Math.max(0, each - 32), Math.max(0, each - 2)));
    const level = levels[each] ?? 0;
    if (level < floor || level < before * ratio) continue;
    if (found.length > 0 && each * hop - (found.at(-1) ?? 0) < RATE * 0.05) continue;
    let at = each * hop;
    while (Math.abs(samples[at] ?? 0) < Math.max(floor, before * 1.1) && at < (each + 2) * hop) at++;
    found.push(at);
  }
  return found;
}

const here = existsSync(FLUIDSYNTH);

describe.skipIf(!here)("onsets are fluidsynth's", () => {
  const compare = (schedule: Schedule, ratio: number): void => {
    const ours = renderSchedule(store, schedule)?.left ?? new Float32Array(0);
    const mine = onsets(ours, ratio);
    const theirs = onsets(fluidsynth(schedule), ratio);
    expect(mine.length).toBe(theirs.length);
    const off = mine.map((at, index) => (at - (theirs[index] ?? NaN)) / RATE);
    // fluidsynth begins the whole a block or two late: what is left after the median is what counts, and the median is small itself
    const median = off.toSorted((a, b) => a - b)[off.length >> 1] ?? NaN;
    expect(Math.abs(median)).toBeLessThan(0.005);
    for (const [index, each] of off.entries()) {
      expect(Math.abs(each - median), `onset ${index} at ${(mine[index] ?? 0) / RATE} s`).toBeLessThan(
        TOLERANCE_SECONDS,
      );
    }
  };

  test.each<[string, InstrumentId, readonly number[]]>([
    ['rim clicks', 'jazz kit', [37, 37, 37, 37, 37, 37, 37]],
    ['a staccato line', 'grand', [60, 62, 65, 69, 67, 64, 72]],
    ['plucked notes', 'acoustic bass', [36, 43, 40, 36, 31, 38, 43]],
  ])('%s', (_, instrument, keys) => {
    const times = [0.2, 0.731, 1.25, 1.6667, 2.3, 2.9, 3.501];
    const events = keys.map((midi, index): PlayedEvent => ({
      startSeconds: times[index] ?? 0,
      durationSeconds: 0.06,
      midi,
      velocity: 100,
      player: 0,
    }));
    const schedule: Schedule = { players: [{ name: 'one', instrument, pan: 0, level: 1 }], events, endSeconds: 4 };
    compare(schedule, 4);
    expect(onsets(renderSchedule(store, schedule)?.left ?? new Float32Array(0), 4).length).toBe(keys.length);
  });

  test("the hi-hat of a trio, with its player's freedom of time", () => {
    const trio = trioSchedule(1, 4);
    const events = trio.events.filter(
      ({ player, midi, startSeconds }) => player === 2 && midi === 44 && startSeconds < 12,
    );
    expect(events.length).toBeGreaterThan(10);
    compare({ ...trio, events, endSeconds: 12 }, 4);
  });
});

test.skipIf(here)('skipped: fluidsynth not here', () => {});
