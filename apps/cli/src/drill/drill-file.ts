import { createReadStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, extname, join } from 'node:path';
import {
  LONGEST_PROGRAMME_MINUTES,
  playDrill,
  programmeMinutes,
  programmeOfDrill,
  scoreOfDrill,
  type Chart,
  type Choices,
  type Drill,
} from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { EXIT, UsageError, type ExitCode } from '../command.ts';
import { isSameFile, reasonOf } from '../fault.ts';
import { Interrupted, interruptible } from '../interrupt.ts';
import { openPress } from '../lesson/press.ts';
import { writeStaged } from '../lesson/staged-folder.ts';
import { bankFile } from '../sound/bank-file.ts';
import { makeSound } from '../sound/make-sound.ts';
import type { SoundKind } from '../sound/sound-order.ts';

/** Files a drill is written as: a sheet, notation, and the drill with the band, as MIDI or to be heard. */
const DRILL_FILE_KINDS = ['pdf', 'musicxml', 'mid', 'wav', 'flac', 'mp3'] as const;
export type DrillFileKind = (typeof DRILL_FILE_KINDS)[number];

/**
 * What a drill is written as, by the ending of the name.
 * @throws UsageError where it is none of them
 */
export function drillFileKind(path: string): DrillFileKind {
  const ending = extname(path).slice(1).toLowerCase();
  const kind = DRILL_FILE_KINDS.find((each) => each === ending);
  if (kind === undefined) {
    const endings = DRILL_FILE_KINDS.map((each) => `.${each}`).join(', ');
    throw new UsageError(`--out takes a name that ends in ${endings}, not '${path}'`);
  }
  return kind;
}

export interface DrillFileOrder {
  readonly drill: Drill;
  /** What it was made of. */
  readonly chart: Chart;
  readonly choices: Choices;
  readonly title: string;
  /** As given on the command line: what is never written over. */
  readonly operand: string;
  readonly out: string;
  readonly kind: DrillFileKind;
  readonly paper: Paper;
}

async function bytesOf({ drill, title, paper }: DrillFileOrder, kind: 'pdf' | 'musicxml' | 'mid'): Promise<Uint8Array> {
  switch (kind) {
    case 'pdf': {
      const [{ writeDrillSheet }, press] = await Promise.all([import('@fivespan/formats/handout'), openPress()]);
      return await writeDrillSheet(drill, { paper, ...press });
    }
    case 'musicxml': {
      const { writeMusicXml } = await import('@fivespan/formats/musicxml');
      return new TextEncoder().encode(writeMusicXml(scoreOfDrill(drill)));
    }
    case 'mid': {
      const { writeProgrammeMidi } = await import('@fivespan/formats/midi');
      return writeProgrammeMidi(title, playDrill(drill, programmeOf(drill)));
    }
  }
}

/** At each tempo once through each key, with bass and drums. */
const programmeOf = (drill: Drill) => programmeOfDrill(drill, ['right hand', 'bass', 'drums']);

/**
 * A drill as sound: composed and rendered in a worker, kept in a scratch folder until it is whole.
 * @param keep takes the pieces of the file, one after the other
 */
async function soundOf(
  { drill, chart, choices, title }: DrillFileOrder,
  kind: SoundKind,
  keep: (pieces: AsyncGenerator<Uint8Array>) => Promise<void>,
): Promise<{ readonly bytes: number } | { readonly faults: readonly string[] }> {
  const programme = programmeOf(drill);
  const [first] = drill.keys;
  const minutes = first === undefined ? 0 : programmeMinutes(first.lesson.chart, first.lesson.analysis.form, programme);
  if (minutes > LONGEST_PROGRAMME_MINUTES) {
    throw new UsageError(
      `that would last ${Math.ceil(minutes)} minutes, and one file takes ${LONGEST_PROGRAMME_MINUTES}: fewer bars, keys or tempi`,
    );
  }
  const bank = await bankFile();
  if ('fault' in bank) return { faults: [bank.fault] };
  const scratchFolder = await mkdtemp(join(tmpdir(), 'fivespan-'));
  try {
    const order = { chart, choices, programme, drill: drill.order, kind, title, bankFile: bank.path, scratchFolder };
    const made = await interruptible(
      async (signal) => await makeSound({ ...order, sampleRate: 44_100, bits: 16 }, () => {}, signal),
    );
    if (made.kind === 'faults') return { faults: made.messages };
    const { head, body, tail, bytes } = made;
    await keep(
      (async function* pieces() {
        yield head;
        yield* createReadStream(body, { highWaterMark: 2 ** 20 });
        yield tail;
      })(),
    );
    return { bytes };
  } finally {
    await rm(scratchFolder, { recursive: true, force: true });
  }
}

/** Writes the file; how long it is, or what stands in the way. */
async function written(order: DrillFileOrder): Promise<Awaited<ReturnType<typeof soundOf>>> {
  const { out, kind } = order;
  const [folder, path] = [dirname(out), basename(out)];
  if (kind === 'pdf' || kind === 'musicxml' || kind === 'mid') {
    const bytes = await bytesOf(order, kind);
    await writeStaged(folder, [{ path, bytes }]);
    return { bytes: bytes.length };
  }
  return await soundOf(order, kind, async (bytes) => await writeStaged(folder, [{ path, bytes }]));
}

/** Writes a drill beside, then renames it into place; says what was written. */
export async function writeDrill(order: DrillFileOrder, asJson: boolean): Promise<ExitCode> {
  const { operand, out, drill } = order;
  if (await isSameFile(operand, out)) {
    throw new UsageError(`--out is the input itself, which stays as it is: take another name than '${out}'`);
  }
  let file: Awaited<ReturnType<typeof written>>;
  try {
    file = await written(order);
  } catch (error) {
    if (error instanceof Interrupted || error instanceof UsageError) throw error;
    process.stderr.write(`fivespan drill: cannot write '${out}': ${reasonOf(error)}\n`);
    return EXIT.faults;
  }
  if ('faults' in file) {
    process.stderr.write(file.faults.map((message) => `fivespan drill: ${message}\n`).join(''));
    return EXIT.faults;
  }
  const { bytes } = file;
  if (asJson) process.stdout.write(`${JSON.stringify({ version: 1, out, files: [{ path: out, bytes }] })}\n`);
  else {
    const keys = `${drill.keys.length} ${drill.keys.length === 1 ? 'key' : 'keys'}`;
    process.stdout.write(`${out}  ${keys}  ${(bytes / 1e3).toFixed(0)} kB\n`);
  }
  return EXIT.done;
}
