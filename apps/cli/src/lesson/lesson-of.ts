import {
  analyse,
  makeLesson,
  notePinIssues,
  planPinIssues,
  planRoute,
  routeOptionsOf,
  voicingPinIssues,
  type Choices,
  type Issue,
  type Lesson,
} from '@fivespan/core';
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
  const { analysis, plan, parts } = choices.pins;
  const analysed = analyse(input.chart, analysis);
  const issues = planPinIssues(analysed, plan, choices.hand, analysis);
  if (parts.voicings.length === 0 && parts.notes.length === 0) return issues;
  const route = planRoute(analysed, routeOptionsOf(analysed, choices, choices.pins));
  return [
    ...issues,
    ...voicingPinIssues(analysed, route, choices.voicings, parts.voicings),
    ...notePinIssues(route, parts.notes),
  ];
}
