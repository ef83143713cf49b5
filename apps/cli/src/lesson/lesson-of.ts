import { analyse, makeLesson, planPinIssues, type Choices, type Issue, type Lesson } from '@fivespan/core';
import type { Call } from '../command.ts';
import { choicesOf, keyOf } from '../options.ts';
import type { Input } from '../input.ts';

/** The lesson of one input in the key that `--key` asks for, its own otherwise. */
export function lessonOf(call: Call, input: Input): Lesson {
  const choices = choicesOf(call, input.choices);
  const key = keyOf(call, analyse(input.chart, choices.pins.analysis).key.mode);
  return makeLesson(input.chart, choices, key);
}

/** Which pins of a lesson file cannot be obeyed, as the chart stands. */
export function pinIssuesOf(input: Input, choices: Choices): readonly Issue[] {
  const { analysis, plan } = choices.pins;
  return planPinIssues(analyse(input.chart, analysis), plan, choices.hand, analysis);
}
