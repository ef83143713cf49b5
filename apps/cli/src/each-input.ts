import { EXIT, type Call, type ExitCode } from './command.ts';
import { lineOfIssue, readInput, reportIssue, type Input } from './input.ts';

/** What a command makes of one chart: the object `--json` prints, and the text a musician reads. */
export interface Answer {
  readonly json: object;
  readonly text: string;
}

/**
 * Answers for each chart in order. A faulty one is reported in its place and the rest still print.
 * Warnings and faults go to standard error, except that `--json` puts faults on standard output, one line an input.
 */
export async function answerEach(call: Call, answer: (input: Input) => Answer): Promise<ExitCode> {
  const asJson = call.options['json'] === true;
  let exit: ExitCode = EXIT.done;
  for (const [index, operand] of call.operands.entries()) {
    const input = await readInput(operand);
    if ('issues' in input) {
      exit = EXIT.faults;
      if (asJson) {
        const report = { version: 1, file: input.file, issues: input.issues.map(reportIssue) };
        process.stdout.write(`${JSON.stringify(report)}\n`);
      } else {
        process.stderr.write(input.issues.map((issue) => `${lineOfIssue(input.file, issue)}\n`).join(''));
      }
      continue;
    }
    for (const warning of input.warnings) process.stderr.write(`${lineOfIssue(input.file, warning)}\n`);
    const { json, text } = answer(input);
    if (asJson) process.stdout.write(`${JSON.stringify(json)}\n`);
    else process.stdout.write(`${index === 0 ? '' : '\n'}${text}\n`);
  }
  return exit;
}
