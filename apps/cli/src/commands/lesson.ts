import { join } from 'node:path';
import {
  analyse,
  ENGINE_VERSION,
  folderOfTitle,
  keysOfLesson,
  LESSON_FILE,
  makeLesson,
  PACK_CHOICES,
  PACK_FILES,
  packPath,
  writeLessonDocument,
  type Choices,
  type Key,
} from '@fivespan/core';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { computed, reasonOf } from '../fault.ts';
import { Interrupted, interruptible } from '../interrupt.ts';
import { lineOfIssue, readInput, reportIssue, titleOf, type FaultyInput, type Input } from '../input.ts';
import { pinIssuesOf } from '../lesson/lesson-of.ts';
import { FaultyLesson, makePacks } from '../lesson/pack-pool.ts';
import { progressLine } from '../lesson/progress-line.ts';
import { writeStaged, type OutputFile } from '../lesson/staged-folder.ts';
import { summaryOf } from '../lesson/summary.ts';
import { choiceOf, choicesOf, keysOf, readersOf, textOf } from '../options.ts';
import { shownLines } from '../shown.ts';

function tell(faulty: FaultyInput, asJson: boolean): ExitCode {
  if (asJson) {
    process.stdout.write(
      `${JSON.stringify({ version: 1, file: faulty.file, issues: faulty.issues.map(reportIssue) })}\n`,
    );
  } else {
    process.stderr.write(faulty.issues.map((issue) => `${lineOfIssue(faulty.file, issue)}\n`).join(''));
    process.stderr.write('Nothing was written.\n');
  }
  return EXIT.faults;
}

/** Makes everything in memory, then writes it; an interrupt before that leaves the disk as it was. */
async function makeFiles(input: Input, choices: Choices, keys: readonly Key[], call: Call): Promise<OutputFile[]> {
  const readers = readersOf(call);
  const paper = choiceOf(call, 'paper', ['a4', 'letter'], 'a4');
  const chart = { ...input.chart, title: titleOf(input) };
  const names = call.options['one-page'] === true ? PACK_CHOICES : PACK_FILES;
  const progress = progressLine(chart.title, keys.length * (names.length + readers.length));
  const orders = keys.map((key) => ({ chart, choices, key, paper, names, readers }));
  try {
    const packs = await interruptible(async (signal) => await makePacks(orders, progress.step, signal));
    const document = writeLessonDocument({ chartText: input.text, choices, engine: ENGINE_VERSION });
    return [
      ...keys.flatMap((key, index) =>
        (packs[index] ?? []).map(({ name, bytes }) => ({ path: packPath(key, name), bytes })),
      ),
      { path: LESSON_FILE, bytes: new TextEncoder().encode(document) },
    ];
  } finally {
    progress.end();
  }
}

/** Makes the whole lesson. */
export async function run(call: Call): Promise<ExitCode> {
  const asJson = call.options['json'] === true;
  const [operand, ...more] = call.operands;
  if (operand === undefined || more.length > 0) throw new UsageError('takes one chart');
  const input = await readInput(operand);
  if ('issues' in input) return tell(input, asJson);
  for (const warning of input.warnings) process.stderr.write(`${lineOfIssue(input.file, warning)}\n`);

  const base = choicesOf(call, input.choices);
  const analysed = computed(input.chart, (chart) => ({
    mode: analyse(chart, base.pins.analysis).key.mode,
    unobeyed: pinIssuesOf({ ...input, chart }, base),
  }));
  if (!analysed.ok) return tell({ file: input.file, issues: analysed.issues }, asJson);
  for (const issue of analysed.value.unobeyed) process.stderr.write(`${lineOfIssue(input.file, issue)}\n`);
  const choices = { ...base, keys: keysOf(call, analysed.value.mode, base.keys) };
  const keys = keysOfLesson(input.chart, choices);
  const out = textOf(call, 'out') ?? join('out', folderOfTitle(titleOf(input)));

  let files: OutputFile[];
  try {
    files = await makeFiles(input, choices, keys, call);
  } catch (error) {
    if (error instanceof FaultyLesson) return tell({ file: input.file, issues: error.issues }, asJson);
    throw error;
  }
  try {
    await writeStaged(out, files);
  } catch (error) {
    if (error instanceof Interrupted) throw error;
    process.stderr.write(`fivespan lesson: cannot write to '${out}': ${reasonOf(error)}\n`);
    return EXIT.faults;
  }
  const written = files.map(({ path, bytes }) => ({ path: join(out, path), bytes: bytes.length }));
  if (asJson) process.stdout.write(`${JSON.stringify({ version: 1, out, files: written })}\n`);
  else {
    const lesson = makeLesson(input.chart, choices, keys[0] ?? null);
    process.stdout.write(shownLines(summaryOf(titleOf(input), lesson, written)));
  }
  return EXIT.done;
}
