import { EXIT, type Call, type ExitCode } from './command.ts';
import type { Issue } from '@fivespan/core';
import { computed } from './fault.ts';
import { lineOfIssue, readInput, reportIssue, type FaultyInput, type Input } from './input.ts';
import { shownLines } from './shown.ts';

/** What a command makes of one chart: the object `--json` prints, and the text a musician reads. */
export interface Answer {
  readonly json: object;
  readonly text: string;
  /** What could not be obeyed. */
  readonly warnings?: readonly Issue[];
}

/** The answer for one input; a fault of ours while computing it is one more issue, which names the bar. */
async function answerOne(operand: string, answer: (input: Input) => Answer): Promise<FaultyInput | Answer> {
  const input = await readInput(operand);
  if ('issues' in input) return input;
  for (const warning of input.warnings) process.stderr.write(`${lineOfIssue(input.file, warning)}\n`);
  const made = computed(input.chart, (chart) => answer({ ...input, chart }));
  if (!made.ok) return { file: operand, issues: made.issues };
  for (const warning of made.value.warnings ?? []) process.stderr.write(`${lineOfIssue(input.file, warning)}\n`);
  return made.value;
}

/**
 * Answers for each chart in order. A faulty one is reported in its place and the rest still print.
 * Warnings and faults go to standard error, except that `--json` puts faults on standard output, one line an input.
 */
export async function answerEach(call: Call, answer: (input: Input) => Answer): Promise<ExitCode> {
  const asJson = call.options['json'] === true;
  let exit: ExitCode = EXIT.done;
  for (const [index, operand] of call.operands.entries()) {
    const answered = await answerOne(operand, answer);
    if ('issues' in answered) {
      exit = EXIT.faults;
      if (asJson) {
        const report = { version: 1, file: answered.file, issues: answered.issues.map(reportIssue) };
        process.stdout.write(`${JSON.stringify(report)}\n`);
      } else {
        process.stderr.write(answered.issues.map((issue) => `${lineOfIssue(answered.file, issue)}\n`).join(''));
      }
      continue;
    }
    const { json, text } = answered;
    if (asJson) process.stdout.write(`${JSON.stringify(json)}\n`);
    else process.stdout.write(`${index === 0 ? '' : '\n'}${shownLines(text)}\n`);
  }
  return exit;
}
