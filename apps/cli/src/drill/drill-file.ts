import { basename, dirname, extname } from 'node:path';
import { programmeOfDrill, scoreOfDrill, playDrill, type Drill } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { EXIT, UsageError, type ExitCode } from '../command.ts';
import { isSameFile, reasonOf } from '../fault.ts';
import { Interrupted } from '../interrupt.ts';
import { openPress } from '../lesson/press.ts';
import { writeStaged } from '../lesson/staged-folder.ts';

/** Files a drill is written as: a sheet, notation, and the drill with the band. */
export const DRILL_FILE_KINDS = ['pdf', 'musicxml', 'mid'] as const;
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
  readonly title: string;
  /** As given on the command line: what is never written over. */
  readonly operand: string;
  readonly out: string;
  readonly kind: DrillFileKind;
  readonly paper: Paper;
}

async function bytesOf({ drill, title, kind, paper }: DrillFileOrder): Promise<Uint8Array> {
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
      const programme = programmeOfDrill(drill, ['right hand', 'bass', 'drums']);
      return writeProgrammeMidi(title, playDrill(drill, programme));
    }
  }
}

/** Writes a drill beside, then renames it into place; says what was written. */
export async function writeDrill(order: DrillFileOrder, asJson: boolean): Promise<ExitCode> {
  const { operand, out, drill } = order;
  if (await isSameFile(operand, out)) {
    throw new UsageError(`--out is the input itself, which stays as it is: take another name than '${out}'`);
  }
  const bytes = await bytesOf(order);
  try {
    await writeStaged(dirname(out), [{ path: basename(out), bytes }]);
  } catch (error) {
    if (error instanceof Interrupted) throw error;
    process.stderr.write(`fivespan drill: cannot write '${out}': ${reasonOf(error)}\n`);
    return EXIT.faults;
  }
  const files = [{ path: out, bytes: bytes.length }];
  if (asJson) process.stdout.write(`${JSON.stringify({ version: 1, out, files })}\n`);
  else {
    const keys = `${drill.keys.length} ${drill.keys.length === 1 ? 'key' : 'keys'}`;
    process.stdout.write(`${out}  ${keys}  ${(bytes.length / 1e3).toFixed(0)} kB\n`);
  }
  return EXIT.done;
}
