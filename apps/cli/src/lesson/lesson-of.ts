import { analyse, makeLesson, type Lesson } from '@fivespan/core';
import type { Call } from '../command.ts';
import { choicesOf, keyOf } from '../options.ts';
import type { Input } from '../input.ts';

/** The lesson of one input in the key that `--key` asks for, its own otherwise. */
export function lessonOf(call: Call, input: Input): Lesson {
  const choices = choicesOf(call, input.choices);
  const key = keyOf(call, analyse(input.chart, choices.pins.analysis).key.mode);
  return makeLesson(input.chart, choices, key);
}
