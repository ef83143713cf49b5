import { basename, dirname } from 'node:path';
import { analyse, NO_ANALYSIS_PINS, transposeChart, writeChart, type Chart } from '@fivespan/core';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { computed, isSameFile, reasonOf } from '../fault.ts';
import { Interrupted } from '../interrupt.ts';
import { readOneInput, tellIssues, type Input } from '../input.ts';
import { writeStaged } from '../lesson/staged-folder.ts';
import { choiceOf, keyOf, textOf } from '../options.ts';

/** The chart in the key asked for. */
function inKey(call: Call, chart: Chart): Chart {
  const own = analyse(chart, NO_ANALYSIS_PINS).key;
  const key = keyOf(call, own.mode);
  return key === null ? chart : transposeChart(chart, key, own);
}

async function write(to: 'chart' | 'musicxml', chart: Chart): Promise<string> {
  if (to === 'chart') return writeChart(chart);
  const { writeLeadSheet } = await import('@fivespan/formats/musicxml');
  return writeLeadSheet(chart);
}

/** What an input is turned into where nothing is asked for: by the ending of the file to write, else the other kind. */
function goalOf(call: Call, input: Input, out: string | undefined): 'chart' | 'musicxml' {
  const byEnding = out?.endsWith('.chart') === true ? 'chart' : out === undefined ? undefined : 'musicxml';
  return choiceOf(call, 'to', ['chart', 'musicxml'], byEnding ?? (input.kind === 'chart' ? 'musicxml' : 'chart'));
}

/** Converts one chart. */
export async function run(call: Call): Promise<ExitCode> {
  const input = await readOneInput(call);
  if (input === undefined) return EXIT.faults;
  const out = textOf(call, 'out');
  if (out !== undefined && (await isSameFile(input.file, out))) {
    throw new UsageError(`--out is the chart itself, which stays as it is: the copy needs another name than '${out}'`);
  }
  const moved = computed(input.chart, (chart) => inKey(call, chart));
  if (!moved.ok) {
    tellIssues({ file: input.file, issues: moved.issues });
    return EXIT.faults;
  }
  const text = await write(goalOf(call, input, out), moved.value);
  if (out === undefined) {
    process.stdout.write(text);
    return EXIT.done;
  }
  try {
    await writeStaged(dirname(out), [{ path: basename(out), bytes: new TextEncoder().encode(text) }]);
  } catch (error) {
    if (error instanceof Interrupted) throw error;
    process.stderr.write(`fivespan convert: cannot write to '${out}': ${reasonOf(error)}\n`);
    return EXIT.faults;
  }
  return EXIT.done;
}
