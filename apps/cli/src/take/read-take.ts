import { readFile, stat } from 'node:fs/promises';
import { FASTEST_TAKE_BPM, SLOWEST_TAKE_BPM, takeTempo, type Issue, type Lesson, type Result } from '@fivespan/core';
import type { MidiTake } from '@fivespan/formats/midi';
import { UsageError, type Call } from '../command.ts';
import { isFromSystem, reasonOf } from '../fault.ts';
import { textOf } from '../options.ts';

/** Larger than any hour of piano. */
const LARGEST_BYTES = 8 * 1024 * 1024;

const MOST_COUNT_IN_BARS = 64;

/** The tempo that `--tempo` asks for. */
export function tempoOption(call: Call): number | null {
  const text = textOf(call, 'tempo');
  if (text === undefined) return null;
  const tempo = Number(text);
  if (!/^\d+(\.\d+)?$/u.test(text) || tempo < SLOWEST_TAKE_BPM || tempo > FASTEST_TAKE_BPM) {
    throw new UsageError(`--tempo takes beats a minute from ${SLOWEST_TAKE_BPM} to ${FASTEST_TAKE_BPM}, not '${text}'`);
  }
  return tempo;
}

/** The bars that `--count-in` says. */
export function countInOption(call: Call): number | null {
  const text = textOf(call, 'count-in');
  if (text === undefined) return null;
  const bars = Number(text);
  if (!/^\d+$/u.test(text) || bars > MOST_COUNT_IN_BARS) {
    throw new UsageError(`--count-in takes whole bars from 0 to ${MOST_COUNT_IN_BARS}, not '${text}'`);
  }
  return bars;
}

/** Reads a recorded take, bounded in size. */
export async function readTake(file: string): Promise<Result<MidiTake>> {
  const refuse = (code: 'file.missing' | 'file.too-large'): Result<never> => ({
    ok: false,
    issues: [{ code, args: { file, limit: LARGEST_BYTES }, place: {} }],
  });
  const about = await stat(file).catch(() => null);
  if (about === null || !about.isFile()) return refuse('file.missing');
  if (about.size > LARGEST_BYTES) return refuse('file.too-large');
  const { readTakeMidi } = await import('@fivespan/formats/midi');
  try {
    return readTakeMidi(await readFile(file));
  } catch (error) {
    if (!isFromSystem(error)) throw error;
    const issue: Issue = { code: 'file.unreadable', args: { file, reason: reasonOf(error) }, place: {} };
    return { ok: false, issues: [issue] };
  }
}

/** Beats a minute of the chart's metre: as asked for, else as the file states it, else the chart's. */
export const tempoOf = (call: Call, take: MidiTake, lesson: Lesson): number =>
  tempoOption(call) ?? takeTempo(take.quartersAMinute, lesson);
