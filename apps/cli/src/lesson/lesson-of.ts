import { analyse, makeLesson, planPinIssues, type Choices, type Lesson } from '@fivespan/core';
import type { Call } from '../command.ts';
import { choicesOf, keyOf } from '../options.ts';
import { lineOfIssue, type Input } from '../input.ts';

/** The lesson of one input in the key that `--key` asks for, its own otherwise. */
export function lessonOf(call: Call, input: Input): Lesson {
  const choices = choicesOf(call, input.choices);
  const key = keyOf(call, analyse(input.chart, choices.pins.analysis).key.mode);
  const lesson = makeLesson(input.chart, choices, key);
  tellPinIssues(input, choices);
  return lesson;
}

/** Says which pins of a lesson file could not be obeyed, as the chart stands. */
export function tellPinIssues(input: Input, choices: Choices): void {
  const { analysis, plan } = choices.pins;
  const issues = planPinIssues(analyse(input.chart, analysis), plan, choices.hand, analysis);
  for (const issue of issues) process.stderr.write(`${lineOfIssue(input.file, issue)}\n`);
}
